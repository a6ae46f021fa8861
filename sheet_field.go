//go:build !js || whole

package slopewright

import (
	"strconv"

	"github.com/slopewright/slopewright/internal/sheet"
)

// stakesOnPage is how many stakes a page holds, set close, and stakesWide how many it
// holds with room for a wet pencil.
const stakesOnPage, stakesWide = 32, 25

// field is the sheet that is taken up the hill: what to mind, the pieces, the
// stake-out with formation and depths. The build sheet has the rest.
func (s *sheetMaker) field() []byte {
	r, w := s.r, s.w
	s.d = sheet.New(s.title()+": field sheet", "Field sheet. Measure twice; stop where the hill differs from the sheet.", s.paper, r.tongue())
	d := s.d
	d.Part("", false, false)
	d.Title("Field sheet", s.title(), "")
	facts := [][2]string{
		{"Steps", strconv.Itoa(r.Layout.Risers) + " risers of " + w.length(r.Layout.Riser)},
		{"Rise and run", w.length(r.Layout.Rise) + " over " + w.length(r.Layout.Run)},
		{"Formation, wide", w.length(r.Dig.FormationWidth)},
		{"Deepest dig", w.length(r.Dig.Deepest.Depth) + " behind riser " + strconv.Itoa(r.Dig.Deepest.Riser)},
		{"To dig, in the bank", w.volume(r.Dig.CutBank)},
	}
	if n, ok := s.barrows(); ok {
		facts = append(facts, [2]string{"Spoil to barrow away", count(n, "barrow load", "barrow loads")})
	}
	d.Facts(facts)
	d.Raw(`<div class="note brief">`)
	d.Heading("Check first, in this order")
	d.List("steps", s.first())
	d.Heading("Cautions")
	var cautions []sheet.Item
	for _, f := range r.Findings {
		if f.Severity == "caution" {
			cautions = append(cautions, sheet.Item{Says: f.Says})
		}
	}
	d.List("dots", cautions)
	d.Raw("</div>\n")
	if len(s.marks) > 0 {
		d.Heading("Pieces")
		// Where the stakes take pages of their own, the pieces are not parted either.
		more := ""
		if len(r.StakeOut) > stakesWide && len(s.marks) <= stakesWide {
			more = " keep"
		}
		s.pieces(4, more)
	}
	if trenches := s.trenches(); len(trenches) > 0 {
		d.Heading("Trenches")
		d.List("dots", trenches)
	}
	if len(r.Build.Framed) > 0 {
		d.Small("Stringers are marked from the build sheet.")
	}
	// A table that a page holds is not parted; a longer one begins where there is room.
	if len(r.StakeOut) <= stakesOnPage {
		d.Whole("Stake-out")
	} else {
		d.Part("Stake-out", false, false)
	}
	s.stakes()
	return d.Bytes()
}
