package draw

import (
	"math"
	"strconv"
	"strings"
)

// px writes a coordinate in px with two decimals, without trailing zeros.
func px(v float64) string {
	var b [24]byte
	return string(appendPx(b[:0], v))
}

// appendPx appends what px writes: by whole hundredths where it is plain which
// one is nearest, which is much quicker.
func appendPx(b []byte, v float64) []byte {
	x := float64(math.Abs(v) * 100)
	n := math.Floor(x)
	switch rest := x - n; {
	case !(x < 1e8) || rest > 0.4999 && rest < 0.5001:
		return append(b, pxExactly(v)...)
	case rest > 0.5:
		n++
	}
	if v < 0 && n > 0 {
		b = append(b, '-')
	}
	whole, rest := int64(n)/100, int(n)%100
	b = strconv.AppendInt(b, whole, 10)
	if rest > 0 {
		if b = append(b, '.', byte('0'+rest/10)); rest%10 > 0 {
			b = append(b, byte('0'+rest%10))
		}
	}
	return b
}

// pxExactly is px of any number.
func pxExactly(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	s = strings.TrimRight(s, "0")
	s = strings.TrimSuffix(s, ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// path is the d attribute of a path, absolute coordinates only.
type path struct{ b strings.Builder }

func (p *path) move(x, y float64) *path { return p.point('M', x, y) }
func (p *path) to(x, y float64) *path   { return p.point('L', x, y) }
func (p *path) close()                  { p.b.WriteByte('Z') }

func (p *path) point(c byte, x, y float64) *path {
	p.b.WriteByte(c)
	p.px(x)
	p.b.WriteByte(' ')
	p.px(y)
	return p
}

func (p *path) px(v float64) {
	var b [24]byte
	p.b.Write(appendPx(b[:0], v))
}

func (p *path) String() string { return p.b.String() }

// element writes an empty element with a class and ready attributes.
func (d *canvas) element(name, class, attributes string) {
	d.body.WriteString("<" + name + ` class="` + class + `" ` + attributes + "/>\n")
}

// line draws a line in ink.
func (d *canvas) line(class string, x0, y0, x1, y1, width float64, extra string) {
	if extra != "" {
		extra = " " + extra
	}
	d.element("line", class, `x1="`+px(x0)+`" y1="`+px(y0)+`" x2="`+px(x1)+`" y2="`+px(y1)+
		`" stroke="currentColor" stroke-width="`+px(width)+`"`+extra)
}

// stroke draws an open path in ink.
func (d *canvas) stroke(class string, p *path, width float64, extra string) {
	if p.b.Len() == 0 {
		return
	}
	if extra != "" {
		extra = " " + extra
	}
	d.element("path", class, `fill="none" stroke="currentColor" stroke-width="`+px(width)+`"`+extra+` d="`+p.String()+`"`)
}

// canvas is a drawing being made: what all kinds of drawing share.
type canvas struct {
	look       Look
	id         string
	class      string // of the whole drawing
	name, desc string
	width      float64
	// bottom is the px down to which the drawing is full.
	bottom float64
	// frame is what a page needs to find a station and level in the drawing.
	frame string
	p     *placer
	body  strings.Builder
}

func newCanvas(class, name, desc string, width float64, look Look) canvas {
	return canvas{look: look, id: look.prefix(), class: class, name: name, desc: desc, width: width, p: newPlacer(width)}
}

// title writes the title over the drawing.
func (d *canvas) title() {
	d.bottom = margin
	if t := clean(d.name, 400); t != "" && !d.look.NoTitle {
		wide := (d.width - 2*margin) / bolder
		lines := wrap(t, wide, titleSize)
		if len(lines) > 3 {
			lines = append(lines[:2], clip(strings.Join(lines[2:], " "), wide, titleSize))
		}
		for _, line := range lines {
			d.p.set(label{text: line, x: margin, y: d.bottom + titleSize, size: titleSize, anchor: start, class: "sw-title", bold: true})
			d.bottom += titleSize + 3
		}
		d.bottom += 5
	}
}

// note writes a text on a line of its own under what is drawn.
func (d *canvas) note(l label) {
	l.text, l.size = clip(l.text, d.width-2*margin, textSize), textSize
	l.x, l.y, l.anchor = margin, d.bottom+textSize+2, start
	d.p.set(l)
	d.bottom += textSize + 8
}

// dimension draws a dimension line with an oblique stroke at each end.
func (d *canvas) dimension(class string, x0, y0, x1, y1 float64) {
	var p path
	p.move(x0, y0).to(x1, y1)
	for _, e := range [][2]float64{{x0, y0}, {x1, y1}} {
		p.move(e[0]-3.5, e[1]+3.5).to(e[0]+3.5, e[1]-3.5)
	}
	d.stroke(class, &p, 0.8, "")
	d.p.line(x0, y0, x1, y1)
}

// document puts the drawing together.
func (d *canvas) document() string {
	var b strings.Builder
	w, h := px(d.width), px(d.bottom)
	wide, tall := w, h
	if d.look.scaled() {
		wide, tall = px(d.width*mmPerPx)+"mm", px(d.bottom*mmPerPx)+"mm"
	}
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" version="1.1" class="` + d.class + `" width="` + wide + `" height="` + tall +
		`" viewBox="0 0 ` + w + " " + h + `" role="img" aria-labelledby="` + d.id + `-title ` + d.id +
		`-desc"` + d.frame + ` font-family="'Segoe UI', 'Helvetica Neue', Helvetica, Arial, sans-serif">` + "\n")
	b.WriteString(`<title id="` + d.id + `-title">` + escape(clean(d.name, 400)) + "</title>\n")
	b.WriteString(`<desc id="` + d.id + `-desc">` + escape(clean(d.desc, 4000)) + "</desc>\n")
	b.WriteString("<defs>\n")
	// Cut leans one way, made ground the other and is spaced wider.
	d.hatch(&b, "cut", d.look.cut(), 5, "45")
	d.hatch(&b, "fill", d.look.fill(), 8, "-45")
	b.WriteString(`<pattern id="` + d.id + `-gravel" patternUnits="userSpaceOnUse" width="7" height="6">` +
		`<circle class="sw-gravel-dot" cx="1.5" cy="1.5" r="0.7" fill="currentColor" fill-opacity="0.85"/>` +
		`<circle class="sw-gravel-dot" cx="5" cy="4.5" r="0.9" fill="currentColor" fill-opacity="0.85"/></pattern>` + "\n")
	d.layers(&b)
	b.WriteString("</defs>\n")
	b.WriteString(d.body.String())
	b.WriteString("<g fill=\"currentColor\">\n")
	for _, l := range d.p.labels {
		b.WriteString(`<text class="` + l.class + `" x="` + px(l.x) + `" y="` + px(l.y) + `" font-size="` + px(l.size) + `"`)
		if l.anchor != start {
			b.WriteString(` text-anchor="` + string(l.anchor) + `"`)
		}
		if l.upright {
			b.WriteString(` transform="rotate(-90 ` + px(l.x) + " " + px(l.y) + `)"`)
		}
		if l.bold {
			b.WriteString(` font-weight="bold"`)
		}
		if l.colour != "" {
			b.WriteString(` fill="` + l.colour + `"`)
		}
		if d.look.Comma {
			l.text = comma(l.text)
		}
		b.WriteString(">" + escape(l.text) + "</text>\n")
	}
	b.WriteString("</g>\n</svg>\n")
	return b.String()
}

// layers writes the patterns of gravel layers and tamped earth, for drawings
// that show them apart: fine and coarse stone, told apart without colour.
func (d *canvas) layers(b *strings.Builder) {
	if d.class != "sw-step" && d.class != "sw-across" {
		return
	}
	dot := func(x, y, r string) string {
		return `<circle class="sw-gravel-dot" cx="` + x + `" cy="` + y + `" r="` + r + `" fill="currentColor" fill-opacity="0.85"/>`
	}
	ring := func(x, y, r string) string {
		return `<circle class="sw-gravel-ring" cx="` + x + `" cy="` + y + `" r="` + r + `" fill="none" stroke="currentColor" stroke-width="0.6"/>`
	}
	open := func(name, w, h string) string {
		return `<pattern id="` + d.id + `-` + name + `" patternUnits="userSpaceOnUse" width="` + w + `" height="` + h + `">`
	}
	b.WriteString(open("topping", "5", "5") + dot("1.2", "1.2", "0.6") + dot("3.7", "3.7", "0.6") + "</pattern>\n")
	b.WriteString(open("fillgravel", "9", "8") + ring("2.2", "2.2", "1.3") + dot("6.5", "5.8", "0.8") + "</pattern>\n")
	b.WriteString(open("base", "13", "12") + ring("3.4", "3.4", "2.4") + ring("9.8", "8.8", "2") + dot("9.5", "2.5", "0.6") + "</pattern>\n")
	b.WriteString(open("earth", "8", "8") + `<line class="sw-earth-dash" x1="1" y1="2" x2="4" y2="2" stroke="currentColor" stroke-width="0.5"/><line class="sw-earth-dash" x1="4" y1="6" x2="7" y2="6" stroke="currentColor" stroke-width="0.5"/></pattern>` + "\n")
}

// hatch writes a pattern of slanting lines on a tint.
func (d *canvas) hatch(b *strings.Builder, name, colour string, apart float64, turn string) {
	s := px(apart)
	b.WriteString(`<pattern id="` + d.id + `-` + name + `" patternUnits="userSpaceOnUse" width="` + s + `" height="` + s +
		`" patternTransform="rotate(` + turn + `)">`)
	if !d.look.Ink {
		b.WriteString(`<rect class="sw-` + name + `-tint" width="` + s + `" height="` + s + `" fill="` + colour + `" fill-opacity="0.14"/>`)
	}
	b.WriteString(`<line class="sw-` + name + `-hatch" x1="` + px(apart/2) + `" y1="0" x2="` + px(apart/2) + `" y2="` + s + `" stroke="` + colour + `" stroke-width="0.9"/></pattern>` + "\n")
}

// scaleBar draws a bar of four parts of a round length at k px per metre, and
// what is said of the scale.
func (d *canvas) scaleBar(k, left float64, feet bool, words Words) {
	u, word := 1.0, words.Metres
	if feet {
		u, word = footMetres, words.Feet
	}
	part := interval(k, 24, feet)
	x, y, w := left, d.bottom+smallSize+8, part*u*k
	if x+float64(4*w) > d.width-60 {
		x = margin + 10
	}
	parts := 4
	for parts > 1 && x+float64(float64(parts)*w) > d.width-60 {
		parts /= 2
	}
	for i := range parts {
		fill := "none"
		if i%2 == 0 {
			fill = "currentColor"
		}
		d.element("rect", "sw-scale", `x="`+px(x+float64(float64(i)*w))+`" y="`+px(y)+`" width="`+px(w)+`" height="4" fill="`+fill+`" stroke="currentColor" stroke-width="0.7"`)
	}
	end := x + float64(float64(parts)*w)
	l := label{y: y - 4, size: smallSize, anchor: middle, class: "sw-scale-text"}
	l.text, l.x = "0", x
	d.p.set(l)
	l.text, l.x, l.anchor = clip(plainNumber(part*float64(parts))+" "+word, d.width-end, smallSize), end-4, start
	d.p.set(l)
	if parts > 1 {
		l.text, l.x, l.anchor = plainNumber(part*float64(parts)/2), x+w*float64(parts)/2, middle
		d.p.placeOver(l)
	}
	d.bottom = y + 8
	t := label{text: d.look.scaleText(words.TrueScale), x: d.width - margin, y: y + 5, size: smallSize, anchor: finish, class: "sw-scale-text"}
	if t.box().x0 < end+textWidth("00000 "+word, smallSize) || !d.p.placeOver(t) {
		t.text = clip(t.text, d.width-2*margin, smallSize)
		t.x, t.y, t.anchor = margin, d.bottom+smallSize+4, start
		d.p.set(t)
		d.bottom = t.y + 4
	}
}

// keyEntry is one line or hatching that the key explains; draw puts a sample of
// it, swatch px wide, with its left end or middle at y.
type keyEntry struct {
	text string
	draw func(x, y float64)
}

const swatch = 22.0

// entries sets the key in rows.
func (d *canvas) entries(entries []keyEntry) {
	const gap = 16.0
	x, y := margin, d.bottom+14
	for _, e := range entries {
		text := clip(e.text, d.width-2*margin-swatch-6, smallSize)
		w := swatch + 6 + textWidth(text, smallSize)
		if x+w > d.width-margin && x > margin {
			x, y = margin, y+18
		}
		e.draw(x, y)
		d.p.set(label{text: text, x: x + swatch + 6, y: y + 4, size: smallSize, anchor: start, class: "sw-key-text"})
		x += w + gap
	}
	d.bottom = y + 10
}
