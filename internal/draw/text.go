package draw

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Text sizes in px. They do not change with the width of the drawing: text
// that shrinks with its drawing cannot be read on a telephone.
const (
	titleSize = 13.0
	textSize  = 12.0
	smallSize = 11.0
)

// ascent and descent of a line of text above and below its baseline, in em,
// with the room that keeps neighbouring lines apart.
const (
	ascent  = 0.92
	descent = 0.26
)

// bolder is how much wider bold text is than textWidth has it.
const bolder = 1.12

// glyph estimates the width of c in em. The figures are the widths of a wide
// screen sans-serif, rounded up, so that text set in another face is rather
// narrower than estimated. From memory of common faces; the tests look only at
// what follows from them.
func glyph(c rune) float64 {
	switch {
	case unicode.Is(unicode.Mn, c), unicode.Is(unicode.Me, c), unicode.Is(unicode.Cf, c):
		return 0
	case strings.ContainsRune("il.,:;'|!jIﾠ’‘·", c):
		return 0.36
	case strings.ContainsRune(" ft/()[]-r\"′″°", c):
		return 0.42
	case c == 'm' || c == 'w' || c == 'M' || c == 'W' || c == '%' || c == '@' || c == '…' || c == '—':
		return 1.02
	case c >= '0' && c <= '9':
		return 0.64
	case c < 0x80 && unicode.IsUpper(c):
		return 0.76
	case c < 0x250:
		if unicode.IsUpper(c) {
			return 0.8
		}
		return 0.64
	case c < 0x1100: // Greek, Cyrillic, Hebrew, Arabic, Indic
		return 0.85
	}
	return 1.15 // ideographs, symbols
}

// textWidth estimates the width of s in px.
func textWidth(s string, size float64) float64 {
	w := 0.0
	for _, c := range s {
		w += glyph(c)
	}
	return float64(w * size)
}

// clip shortens s to fit a width in px, marking the cut.
func clip(s string, width, size float64) string {
	if textWidth(s, size) <= width {
		return s
	}
	w := float64(glyph('…') * size)
	end := 0
	for i, c := range s {
		// Cut only before a character that stands by itself.
		if g := float64(glyph(c) * size); g > 0 {
			end = i
			w += g
			if w > width {
				break
			}
		}
	}
	return strings.TrimRight(s[:end], " ") + "…"
}

// clean makes s one line of text that XML can carry, at most n characters of
// it: what XML 1.0 has no place for (section 2.2, fifth edition) and marks that
// turn the direction of what follows are taken out, and spaces closed up.
func clean(s string, n int) string {
	if m := n * utf8.UTFMax; len(s) > m {
		s = s[:m] // keeps a very long text from being gone through
	}
	var b strings.Builder
	space, runes := false, 0
	for _, c := range s {
		switch {
		case unicode.IsSpace(c), unicode.IsControl(c):
			space = b.Len() > 0
			continue
		case c == 0xfffe, c == 0xffff, c >= 0x202a && c <= 0x202e, c >= 0x2066 && c <= 0x2069:
			continue
		}
		if space {
			b.WriteByte(' ')
			runes++
			space = false
		}
		if runes++; runes > n {
			return strings.TrimRight(b.String(), " ") + "…"
		}
		b.WriteRune(c) // an invalid byte arrives as U+FFFD
	}
	return b.String()
}

// Text is s as one line of at most n characters, without what turns the
// direction of the text after it, safe between the tags and in the attributes
// of XML and HTML.
func Text(s string, n int) string { return escape(clean(s, n)) }

// escape makes clean text safe between tags and in attributes.
func escape(s string) string {
	if !strings.ContainsAny(s, "&<>\"'") {
		return s
	}
	var b strings.Builder // a strings.Replacer is 4 kB of the browser's program
	for _, r := range s {
		switch r {
		case '&':
			b.WriteString("&amp;")
		case '<':
			b.WriteString("&lt;")
		case '>':
			b.WriteString("&gt;")
		case '"':
			b.WriteString("&quot;")
		case '\'':
			b.WriteString("&#39;")
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// box is a rectangle in px, y downwards.
type box struct{ x0, y0, x1, y1 float64 }

func (a box) overlaps(b box) bool {
	return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1
}

// anchor is where a text stands relative to its x.
type anchor string

const (
	start  anchor = "start"
	middle anchor = "middle"
	finish anchor = "end"
)

// label is a text at a place, x and y in px of its baseline. An upright label
// reads upwards; its x is that of the baseline.
type label struct {
	_       [0]func() // not comparable, which spares code: see DEVELOPERS.md
	text    string
	x, y    float64
	size    float64
	anchor  anchor
	upright bool
	class   string
	colour  string // "" is the ink
	bold    bool
}

// box is the room the label takes.
func (l label) box() box {
	w := textWidth(l.text, l.size)
	if l.bold {
		w *= bolder
	}
	back := 0.0
	switch l.anchor {
	case middle:
		back = w / 2
	case finish:
		back = w
	}
	if l.upright {
		return box{l.x - float64(ascent*l.size), l.y + back - w, l.x + float64(descent*l.size), l.y + back}
	}
	return box{l.x - back, l.y - float64(ascent*l.size), l.x - back + w, l.y + float64(descent*l.size)}
}

// placer keeps labels from lying on each other, and where it can from lying on
// lines. It is greedy: what is placed first stays, so place the most important
// first.
type placer struct {
	width  float64
	labels []label
	boxes  []box
	// lines are in columns of columnWidth px, so that a label is compared
	// only with what is near.
	columns [][]segment
}

type segment struct{ x0, y0, x1, y1 float64 }

const columnWidth = 32

func newPlacer(width float64) *placer {
	return &placer{width: width, columns: make([][]segment, int(width/columnWidth)+1)}
}

// line makes labels keep off a line.
func (p *placer) line(x0, y0, x1, y1 float64) {
	a, b := p.column(x0), p.column(x1)
	if a > b {
		a, b = b, a
	}
	for i := a; i <= b; i++ {
		p.columns[i] = append(p.columns[i], segment{x0, y0, x1, y1})
	}
}

// mark gives what takes back all that is put here from now on.
func (p *placer) mark() func() {
	labels, columns := len(p.labels), append([][]segment(nil), p.columns...)
	return func() {
		p.labels, p.boxes = p.labels[:labels], p.boxes[:labels]
		copy(p.columns, columns)
	}
}

func (p *placer) column(x float64) int {
	i := int(x / columnWidth)
	if i < 0 {
		return 0
	}
	if i >= len(p.columns) {
		return len(p.columns) - 1
	}
	return i
}

// free says whether a box lies on no label and inside the drawing's sides. Numbers that
// touch would read as one.
func (p *placer) free(b box) bool {
	if b.x0 < 0 || b.x1 > p.width || b.y0 < 0 {
		return false
	}
	b.x0 -= 2
	b.x1 += 2
	for _, o := range p.boxes {
		if b.overlaps(o) {
			return false
		}
	}
	return true
}

// clear says whether a box lies on no line.
func (p *placer) clear(b box) bool {
	for i := p.column(b.x0); i <= p.column(b.x1); i++ {
		for _, s := range p.columns[i] {
			if s.crosses(b) {
				return false
			}
		}
	}
	return true
}

// place sets the first of the labels that lies on no other label and on no
// line. It says whether one did.
func (p *placer) place(candidates ...label) bool {
	for _, l := range candidates {
		if b := l.box(); p.free(b) && p.clear(b) {
			p.set(l)
			return true
		}
	}
	return false
}

// placeOver is place for labels that may lie on lines.
func (p *placer) placeOver(candidates ...label) bool {
	for _, l := range candidates {
		if p.free(l.box()) {
			p.set(l)
			return true
		}
	}
	return false
}

// onLabel says whether a segment touches a label.
func (p *placer) onLabel(s segment) bool {
	for _, b := range p.boxes {
		if s.crosses(b) {
			return true
		}
	}
	return false
}

func (p *placer) set(l label) {
	if l.text == "" {
		return
	}
	p.labels = append(p.labels, l)
	p.boxes = append(p.boxes, l.box())
}

// crosses says whether the segment touches the box (Liang and Barsky, A New
// Concept and Method for Line Clipping, ACM Transactions on Graphics 3(1), 1984).
func (s segment) crosses(b box) bool {
	dx, dy := s.x1-s.x0, s.y1-s.y0
	t0, t1 := 0.0, 1.0
	for _, e := range [4][2]float64{
		{-dx, s.x0 - b.x0}, {dx, b.x1 - s.x0}, {-dy, s.y0 - b.y0}, {dy, b.y1 - s.y0},
	} {
		p, q := e[0], e[1]
		switch {
		case p == 0:
			if q < 0 {
				return false
			}
		case p < 0:
			if r := q / p; r > t0 {
				t0 = r
			}
		default:
			if r := q / p; r < t1 {
				t1 = r
			}
		}
	}
	return t0 <= t1
}
