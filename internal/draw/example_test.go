package draw_test

import (
	"fmt"
	"strings"

	"github.com/slopewright/slopewright/internal/draw"
)

func ExampleSection_SVG() {
	s := draw.Section{
		Title:  "Two steps (invented)",
		Desc:   "A short bank with two risers and a tread between them.",
		Ground: []draw.XY{{Station: -0.5, Level: 0}, {Station: 0.5, Level: 0.3}, {Station: 1.5, Level: 0.35}},
		Head:   draw.XY{Station: 0.9, Level: 0.34},
		Steps: []draw.Step{
			{Riser: 1, Level: 0.17, TreadEnd: 0.9, EndLevel: 0.17},
			{Riser: 2, Station: 0.9, Level: 0.34, TreadEnd: 0.9, EndLevel: 0.34},
		},
		Formation: []draw.Piece{{From: draw.XY{Level: 0.02}, To: draw.XY{Station: 0.9, Level: 0.02}}},
	}
	svg := s.SVG(640, draw.Look{Prefix: "plan"})
	fmt.Println(strings.Contains(svg, "Rise 0.34 m"), strings.Contains(svg, "Run 0.90 m"))
	fmt.Println(strings.Contains(svg, `fill="url(#plan-cut)"`))
	// Output:
	// true true
	// true
}
