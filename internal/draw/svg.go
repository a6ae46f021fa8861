package draw

import (
	"strconv"
	"strings"
)

// px writes a coordinate in px with two decimals, without trailing zeros.
func px(v float64) string {
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
	p.b.WriteString(px(x))
	p.b.WriteByte(' ')
	p.b.WriteString(px(y))
	return p
}

func (p *path) String() string { return p.b.String() }

// element writes an empty element with a class and ready attributes.
func (d *drawing) element(name, class, attributes string) {
	d.body.WriteString("<" + name + ` class="` + class + `" ` + attributes + "/>\n")
}

// line draws a line in ink.
func (d *drawing) line(class string, x0, y0, x1, y1, width float64, extra string) {
	if extra != "" {
		extra = " " + extra
	}
	d.element("line", class, `x1="`+px(x0)+`" y1="`+px(y0)+`" x2="`+px(x1)+`" y2="`+px(y1)+
		`" stroke="currentColor" stroke-width="`+px(width)+`"`+extra)
}

// stroke draws an open path in ink.
func (d *drawing) stroke(class string, p *path, width float64, extra string) {
	if p.b.Len() == 0 {
		return
	}
	if extra != "" {
		extra = " " + extra
	}
	d.element("path", class, `fill="none" stroke="currentColor" stroke-width="`+px(width)+`"`+extra+` d="`+p.String()+`"`)
}

// document puts the drawing together.
func (d *drawing) document() string {
	var b strings.Builder
	w, h := px(d.width), px(d.bottom)
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" version="1.1" class="sw-section" width="` + w + `" height="` + h +
		`" viewBox="0 0 ` + w + " " + h + `" role="img" aria-labelledby="` + d.id + `-title ` + d.id +
		`-desc" font-family="'Segoe UI', 'Helvetica Neue', Helvetica, Arial, sans-serif">` + "\n")
	b.WriteString(`<title id="` + d.id + `-title">` + escape(clean(d.s.Title, 400)) + "</title>\n")
	b.WriteString(`<desc id="` + d.id + `-desc">` + escape(clean(d.s.Desc, 4000)) + "</desc>\n")
	b.WriteString("<defs>\n")
	// Cut leans one way, made ground the other and is spaced wider.
	d.hatch(&b, "cut", d.look.cut(), 5, "45")
	d.hatch(&b, "fill", d.look.fill(), 8, "-45")
	b.WriteString(`<pattern id="` + d.id + `-gravel" patternUnits="userSpaceOnUse" width="7" height="6">` +
		`<circle class="sw-gravel-dot" cx="1.5" cy="1.5" r="0.7" fill="currentColor" fill-opacity="0.85"/>` +
		`<circle class="sw-gravel-dot" cx="5" cy="4.5" r="0.9" fill="currentColor" fill-opacity="0.85"/></pattern>` + "\n")
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
		b.WriteString(">" + escape(l.text) + "</text>\n")
	}
	b.WriteString("</g>\n</svg>\n")
	return b.String()
}

// hatch writes a pattern of slanting lines on a tint.
func (d *drawing) hatch(b *strings.Builder, name, colour string, apart float64, turn string) {
	s := px(apart)
	b.WriteString(`<pattern id="` + d.id + `-` + name + `" patternUnits="userSpaceOnUse" width="` + s + `" height="` + s +
		`" patternTransform="rotate(` + turn + `)">`)
	if !d.look.Ink {
		b.WriteString(`<rect class="sw-` + name + `-tint" width="` + s + `" height="` + s + `" fill="` + colour + `" fill-opacity="0.14"/>`)
	}
	b.WriteString(`<line class="sw-` + name + `-hatch" x1="` + px(apart/2) + `" y1="0" x2="` + px(apart/2) + `" y2="` + s + `" stroke="` + colour + `" stroke-width="0.9"/></pattern>` + "\n")
}
