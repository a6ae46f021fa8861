//go:build !js || whole

package slopewright

import (
	"math"
	"sort"
	"strconv"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/draw"
)

// A pieceMark is the letter that a kind of piece goes by on the sheet: chalked
// on the timber, it says where the piece belongs.
type pieceMark struct {
	mark, section, use string
	length             unit.Length
	count              int
	boards             []string // the boards it is cut from
}

// pieceMarks letters the pieces of the cut plan: riser timbers, then the other
// uses in the order they come, longer before shorter.
func (r Result) pieceMarks() []pieceMark {
	var out []pieceMark
	next := 1
	for _, b := range r.CutPlan.Boards {
		name := boardName(next, b.Count)
		next += b.Count
		for _, p := range b.Pieces {
			i := findMark(out, b.Section, p)
			if i < 0 {
				i = len(out)
				out = append(out, pieceMark{section: b.Section, use: p.Use, length: p.Length})
			}
			out[i].count += b.Count
			if n := len(out[i].boards); n == 0 || out[i].boards[n-1] != name {
				out[i].boards = append(out[i].boards, name)
			}
		}
	}
	rank := func(use string) int {
		for i, u := range []string{"riser-timber", "side-timber", "cross-piece"} {
			if u == use {
				return i
			}
		}
		return 3
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		if rank(a.use) != rank(b.use) {
			return rank(a.use) < rank(b.use)
		}
		if a.use != b.use {
			return a.use < b.use
		}
		return a.length > b.length
	})
	for i := range out {
		out[i].mark = letters(i)
	}
	return out
}

// samePiece is how far two pieces of one mark may differ: far below what a saw
// can cut.
const samePiece = 0.01 * unit.Millimeter

func findMark(marks []pieceMark, section string, p BoardPiece) int {
	for i, m := range marks {
		if m.section == section && m.use == p.Use && math.Abs(float64(m.length-p.Length)) < float64(samePiece) {
			return i
		}
	}
	return -1
}

// letters counts A to Z, then AA; I and O are left out, since they are read as
// figures.
func letters(i int) string {
	const alphabet = "ABCDEFGHJKLMNPQRSTUVWXYZ"
	s := ""
	for i++; i > 0; i = (i - 1) / len(alphabet) {
		s = string(alphabet[(i-1)%len(alphabet)]) + s
	}
	return s
}

// boardName names count boards from the number first on.
func boardName(first, count int) string {
	if count == 1 {
		return strconv.Itoa(first)
	}
	return strconv.Itoa(first) + "–" + strconv.Itoa(first+count-1)
}

// strips are the boards with their pieces; the kerf is what is left over when
// pieces and offcut are taken from the board, shared among the saw cuts.
func (r Result) strips(title string) draw.Strips {
	w := r.words()
	marks := r.pieceMarks()
	s := draw.Strips{Title: r.say(title), Words: draw.In(draw.English(), r.say)}
	s.Desc = r.say("The boards to buy, each drawn as a strip with the pieces cut from it: " + count(r.boardsBought(), "board", "boards") + " in all.")
	next := 1
	for _, b := range r.CutPlan.Boards {
		x := draw.Strip{Length: b.Length.Meters(), Left: b.Offcut.Meters()}
		x.Name = "Board " + boardName(next, b.Count)
		if b.Count > 1 {
			x.Name = "Boards " + boardName(next, b.Count)
		}
		next += b.Count
		x.Name += ": " + strconv.Itoa(b.Count) + " of " + b.Section + ", " + w.distanceSold(b.Length)
		if b.Offcut > 0 {
			x.Name += ", " + w.length(b.Offcut) + " left"
			if b.Count > 1 {
				x.Name += " of each"
			}
		} else {
			x.Name += ", nothing left"
		}
		x.Name = r.say(x.Name)
		cuts := len(b.Pieces)
		if b.Offcut <= 0 {
			cuts--
		}
		rest := b.Length - b.Offcut
		for _, p := range b.Pieces {
			rest -= p.Length
			x.Pieces = append(x.Pieces, draw.StripPiece{Mark: marks[findMark(marks, b.Section, p)].mark, Text: r.say(w.length(p.Length)), Length: p.Length.Meters()})
		}
		if cuts > 0 && rest > 0 {
			x.Kerf = rest.Meters() / float64(cuts)
		}
		s.Boards = append(s.Boards, x)
	}
	return s
}

func (r Result) boardsBought() int {
	n := 0
	for _, b := range r.CutPlan.Boards {
		n += b.Count
	}
	return n
}
