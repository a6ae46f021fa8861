//go:build !js

package slopewright

import (
	"strings"

	"github.com/slopewright/slopewright/internal/lang"
)

// Language gives the words of a language that the program holds, by its tag (BCP
// 47): "es", and "es-MX" and the like. For any other, and in a browser, which is
// handed its words, it gives nil, which says all in English.
func Language(tag string) *Words {
	if of, _, _ := strings.Cut(strings.ToLower(tag), "-"); of != "es" {
		return nil
	}
	w, err := lang.Spanish()
	if err != nil {
		return nil // a test reads it
	}
	return &Words{w}
}
