package draw

import "math"

// Strips is a cut plan: boards as strips to one scale, each with the pieces cut
// from it in order. Lengths are metres.
type Strips struct {
	Title, Desc string
	Boards      []Strip
	Words       Words
}

// Strip is so many boards cut alike.
type Strip struct {
	// Name says which boards these are and how many.
	Name   string
	Length float64
	// Pieces in order from one end; Kerf is what the saw takes between them.
	Pieces []StripPiece
	Kerf   float64
	// Left is the offcut.
	Left float64
}

// StripPiece is a piece cut from a board: a short mark, and its length in words.
type StripPiece struct {
	Mark, Text string
	Length     float64
}

const maxStrips = 2000

func (s *Strips) drawable() bool {
	ok := len(s.Boards) > 0 && len(s.Boards) <= maxStrips
	pieces := 0
	for _, b := range s.Boards {
		ok = ok && b.Length > 0 && b.Length <= 1000 && b.Kerf >= 0 && b.Kerf < 1 && b.Left >= 0 && b.Left <= b.Length
		pieces += len(b.Pieces)
		for _, p := range b.Pieces {
			ok = ok && p.Length > 0 && p.Length <= b.Length
		}
	}
	return ok && pieces <= 20*maxStrips
}

// SVG draws the strips to fit a width in px, or to the look's scale; see
// [Section.SVG].
func (s Strips) SVG(width float64, look Look) string {
	width = bounded(width)
	if !s.drawable() {
		d := newCanvas("sw-strips", s.Title, s.Desc, width, look)
		d.title()
		d.note(label{text: s.Words.filled().Nothing, class: "sw-note"})
		d.bottom += margin
		return d.document()
	}
	longest := 0.0
	for _, b := range s.Boards {
		longest = math.Max(longest, b.Length)
	}
	if look = look.fitted(longest); look.scaled() {
		width = look.width(longest, 2*margin+2)
	}
	d := newCanvas("sw-strips", s.Title, s.Desc, width, look)
	d.title()
	k := (width - 2*margin - 2) / longest
	if look.scaled() {
		k = look.pxPerMetre()
	}
	for _, b := range s.Boards {
		d.strip(b, k)
	}
	return d.document()
}

func (d *canvas) strip(b Strip, k float64) {
	const tall = 20.0
	x0, y := margin+1, d.bottom+smallSize+6
	d.p.set(label{text: clip(clean(b.Name, 120), d.width-2*margin, smallSize), x: x0, y: y - 4, size: smallSize, anchor: start, class: "sw-board-text"})
	rect := func(class string, x, w float64, more string) {
		d.element("rect", class, `x="`+px(x)+`" y="`+px(y)+`" width="`+px(w)+`" height="`+px(tall)+`" `+more)
	}
	rect("sw-board", x0, b.Length*k, `fill="none" stroke="currentColor" stroke-width="1.4"`)
	x := x0
	for i, p := range b.Pieces {
		w := float64(p.Length * k)
		rect("sw-piece", x, w, `fill="none" stroke="currentColor" stroke-width="0.9"`)
		for _, text := range []string{clean(p.Mark+"  "+p.Text, 60), clean(p.Mark, 12)} {
			if text != "" && textWidth(text, smallSize) <= w-4 {
				d.p.set(label{text: text, x: x + w/2, y: y + tall/2 + 4, size: smallSize, anchor: middle, class: "sw-piece-text"})
				break
			}
		}
		x += w
		if b.Kerf > 0 && (i < len(b.Pieces)-1 || b.Left > 0) {
			// A saw cut is drawn no finer than can be seen.
			d.element("rect", "sw-kerf", `x="`+px(x)+`" y="`+px(y)+`" width="`+px(math.Max(b.Kerf*k, 0.8))+`" height="`+px(tall)+`" fill="currentColor"`)
			x += float64(b.Kerf * k)
		}
	}
	if b.Left > 0 {
		w := float64(b.Left * k)
		rect("sw-left", x0+float64(b.Length*k)-w, w, `fill="url(#`+d.id+`-fill)" stroke="none"`)
	}
	d.bottom = y + tall + 5
}
