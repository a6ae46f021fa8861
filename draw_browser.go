//go:build js

package slopewright

import "github.com/slopewright/slopewright/internal/draw"

// Drawings are the names that [Result.Draw] knows in the browser: the others
// would add 40 kB to what every visitor loads.
func Drawings() []string { return []string{"section"} }

func (r Result) otherDrawing(string, float64, draw.Look) string { return "" }
