package draw

import (
	"math"
	"strconv"
)

// Chart is a plot of two measures: a curve with steps, or points with letters.
type Chart struct {
	Title, Desc  string
	XName, YName string // with their units
	Points       []ChartPoint
	// Curve joins the points; otherwise each stands for itself, and those
	// marked Best lie on the edge that nothing else beats.
	Curve bool
	// Above and Below say what it means when the curve lies over or under
	// nought.
	Above, Below string
	Words        Words
}

// ChartPoint is one point; Mark stands beside it and Text in the list below.
type ChartPoint struct {
	X, Y       float64
	Mark, Text string
}

func (c *Chart) drawable() bool {
	ok := len(c.Points) > 0 && len(c.Points) <= maxPoints
	for _, p := range c.Points {
		ok = ok && math.Abs(p.X) <= 1e9 && math.Abs(p.Y) <= 1e9
	}
	return ok
}

// axis gives round values that take in a range, at most n of them.
func axis(low, high float64, n int) (first, step float64, count int) {
	span := high - low
	if !(span > 1e-9) {
		span = math.Max(math.Abs(high)*0.2, 1e-3)
		low -= span / 2
		high = low + span
	}
	step = math.Pow(10, math.Floor(math.Log10(span/float64(n))))
	for _, m := range []float64{1, 2, 5, 10, 20} {
		if span/(step*m) <= float64(n) {
			step *= m
			break
		}
	}
	first = math.Floor(low/step) * step
	count = int(math.Ceil((high-first)/step-1e-9)) + 1
	return first, step, count
}

// SVG draws the chart to fit a width in px; it has no scale of the work.
func (c Chart) SVG(width float64, look Look) string {
	words := c.Words.filled()
	width = bounded(width)
	look.Scale = 0
	class := "sw-points"
	if c.Curve {
		class = "sw-curve"
	}
	d := newCanvas(class, c.Title, c.Desc, width, look)
	d.title()
	if !c.drawable() {
		d.note(label{text: words.Nothing, class: "sw-note"})
		d.bottom += margin
		return d.document()
	}
	lowX, highX, lowY, highY := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, p := range c.Points {
		lowX, highX = math.Min(lowX, p.X), math.Max(highX, p.X)
		lowY, highY = math.Min(lowY, p.Y), math.Max(highY, p.Y)
	}
	if c.Curve {
		lowY, highY = math.Min(lowY, 0), math.Max(highY, 0)
	}
	fx, sx, nx := axis(lowX, highX, int(math.Max(width/90, 2)))
	fy, sy, ny := axis(lowY, highY, 6)
	left, right := 62.0, width-28
	d.p.set(label{text: clip(clean(c.YName, 80), width-2*margin, smallSize), x: margin, y: d.bottom + smallSize, size: smallSize, anchor: start, class: "sw-axis-text"})
	top := d.bottom + smallSize + 16
	tall := math.Min(math.Max(0.3*width, 140), 220)
	kx, ky := (right-left)/(sx*float64(nx-1)), tall/(sy*float64(ny-1))
	x := func(v float64) float64 { return left + float64((v-fx)*kx) }
	y := func(v float64) float64 { return top + tall - float64((v-fy)*ky) }
	var grid path
	for i := range ny {
		v := fy + float64(float64(i)*sy)
		grid.move(left, y(v)).to(right, y(v))
		d.p.set(label{text: plainNumber(v), x: left - 6, y: y(v) + 4, size: smallSize, anchor: finish, class: "sw-axis-text"})
	}
	for i := range nx {
		v := fx + float64(float64(i)*sx)
		grid.move(x(v), top).to(x(v), top+tall)
		d.p.placeOver(label{text: plainNumber(v), x: x(v), y: top + tall + smallSize + 5, size: smallSize, anchor: middle, class: "sw-axis-text"})
	}
	d.stroke("sw-grid", &grid, 0.4, `stroke-opacity="0.45"`)
	var frame path
	frame.move(left, top).to(left, top+tall).to(right, top+tall)
	d.stroke("sw-axis", &frame, 1.2, "")
	d.bottom = top + tall + smallSize + 8
	d.p.set(label{text: clip(clean(c.XName, 80), width-2*margin, smallSize), x: right, y: d.bottom + smallSize + 2, size: smallSize, anchor: finish, class: "sw-axis-text"})
	d.bottom += smallSize + 8
	if c.Curve {
		d.line("sw-nought", left, y(0), right, y(0), 1.2, "")
		d.p.line(left, y(0), right, y(0))
		var curve path
		for i, p := range c.Points {
			if i == 0 {
				curve.move(x(p.X), y(p.Y))
				continue
			}
			curve.to(x(p.X), y(p.Y))
			q := c.Points[i-1]
			d.p.line(x(q.X), y(q.Y), x(p.X), y(p.Y))
		}
		d.stroke("sw-haul", &curve, 2, "")
	}
	for _, p := range c.Points {
		r := 4.0
		if c.Curve {
			r = 2
		}
		d.element("circle", "sw-point", `cx="`+px(x(p.X))+`" cy="`+px(y(p.Y))+`" r="`+px(r)+`" fill="currentColor"`)
		d.p.line(x(p.X)-r, y(p.Y), x(p.X)+r, y(p.Y))
	}
	for _, p := range c.Points {
		if p.Mark == "" {
			continue
		}
		l := label{text: clean(p.Mark, 12), size: textSize, anchor: start, class: "sw-point-text", bold: !c.Curve}
		var places []label
		for _, v := range [][2]float64{{7, -5}, {7, 14}, {-16, -5}, {-16, 14}, {0, -10}, {0, 20}, {16, 4}, {-26, 4}} {
			l.x, l.y = x(p.X)+v[0], y(p.Y)+v[1]
			places = append(places, l)
		}
		if !d.p.place(places...) && !c.Curve {
			d.p.placeOver(places...)
		}
	}
	d.notes(c.Above, c.Below)
	for _, p := range c.Points {
		if t := clean(p.Text, 300); t != "" {
			for i, line := range wrap(clean(p.Mark, 12)+"  "+t, width-2*margin-textWidth("     ", textSize), textSize) {
				l := label{text: line, class: "sw-point-says"}
				if i > 0 {
					l.text = "     " + line
				}
				d.note(l)
			}
		}
	}
	return d.document()
}

// notes writes texts under what is drawn, on as many lines as they take.
func (d *canvas) notes(texts ...string) {
	for _, t := range texts {
		if t = clean(t, 300); t == "" {
			continue
		}
		for _, line := range wrap(t, d.width-2*margin, textSize) {
			d.note(label{text: line, class: "sw-note"})
		}
	}
}

// wrap breaks a text into lines no wider than so many px.
func wrap(s string, width, size float64) []string {
	var out []string
	line := ""
	word := ""
	put := func() {
		switch {
		case word == "":
			return
		case line == "":
			line = word
		case textWidth(line+" "+word, size) <= width:
			line += " " + word
		default:
			out = append(out, line)
			line = word
		}
		word = ""
	}
	for _, c := range s {
		if c == ' ' {
			put()
			continue
		}
		if word != "" && textWidth(word+string(c), size) > width {
			put() // a word that is longer than a line
		}
		word += string(c)
	}
	put()
	return append(out, line)
}

// Letter is the mark of the i-th point: a, b, …
func Letter(i int) string {
	if i < 26 {
		return string(rune('a' + i))
	}
	return strconv.Itoa(i + 1)
}
