//go:build !js

package slopewright

import "github.com/slopewright/slopewright/internal/lang"

// Language gives the words of a language that the program holds, by its tag (BCP
// 47): "es". For any other, and in a browser, which is handed its words, it gives
// nil.
func Language(tag string) *Words {
	if tag != "es" {
		return nil
	}
	w, err := lang.Spanish()
	if err != nil {
		return nil // a test reads it
	}
	return &Words{w}
}
