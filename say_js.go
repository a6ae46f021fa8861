//go:build js

package slopewright

// Language gives nil in a browser: see [ReadWords].
func Language(string) *Words { return nil }
