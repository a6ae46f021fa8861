package draw

import (
	"math"
	"strconv"
)

// Detail is one box step as it is built, cut along and across the path.
// Lengths are metres.
type Detail struct {
	Title, Desc string
	// Riser is the height of a riser, Tread the depth from face to face and
	// Wash the fall of the tread, as a ratio.
	Riser, Tread, Wash float64
	// Course is the height of one course of timber, Breadth its other side.
	// Bedding is gravel under the riser's timbers and Buried how far they stand
	// below the surface in front; one of them is 0.
	Courses                          int
	Course, Breadth, Bedding, Buried float64
	// Topping, Fill and Base are the layers from the surface down to formation.
	Topping, Fill, Base float64
	// Pin is the length of a pin and PinEnd its distance from a timber's end;
	// 0 draws none.
	Pin, PinEnd float64
	// Width is that of the path, Working the room beside it on formation and
	// Batter the slope of the cut's sides, horizontal per vertical.
	Width, Working, Batter float64
	// WashText and BatterText are the two slopes in words.
	WashText, BatterText string
	LengthText           func(metres float64) string
	Feet                 bool
	Words                Words
	Parts                DetailWords
}

// DetailWords are the words of a detail beside those of [Words]. An empty one is
// taken from English.
type DetailWords struct {
	Riser, Tread, Course, Courses, Bedding, Buried string
	Topping, Fill, Base, BuildUp, Formation        string
	Pin, Wash, Side, NextRiser                     string
	Width, Working, Batter, Nothing                string
}

// EnglishDetail gives the words in English.
func EnglishDetail() DetailWords {
	return DetailWords{
		Riser: "Riser", Tread: "Tread", Course: "Course", Courses: "courses of", Bedding: "Bedding gravel", Buried: "Buried",
		Topping: "Topping", Fill: "Fill gravel", Base: "Base gravel", BuildUp: "To formation", Formation: "Formation",
		Pin: "Pin", Wash: "Wash", Side: "Side timber behind", NextRiser: "Next riser",
		Width: "Path", Working: "Working room", Batter: "Batter", Nothing: "No detail: the measures do not make a box",
	}
}

func (w DetailWords) filled() DetailWords {
	e := EnglishDetail()
	for _, p := range []struct{ word, english *string }{
		{&w.Riser, &e.Riser}, {&w.Tread, &e.Tread}, {&w.Course, &e.Course}, {&w.Courses, &e.Courses}, {&w.Bedding, &e.Bedding}, {&w.Buried, &e.Buried},
		{&w.Topping, &e.Topping}, {&w.Fill, &e.Fill}, {&w.Base, &e.Base}, {&w.BuildUp, &e.BuildUp}, {&w.Formation, &e.Formation},
		{&w.Pin, &e.Pin}, {&w.Wash, &e.Wash}, {&w.Side, &e.Side}, {&w.NextRiser, &e.NextRiser},
		{&w.Width, &e.Width}, {&w.Working, &e.Working}, {&w.Batter, &e.Batter}, {&w.Nothing, &e.Nothing},
	} {
		if *p.word = clean(*p.word, 40); *p.word == "" {
			*p.word = *p.english
		}
	}
	return w
}

func (s *Detail) drawable() bool {
	ok := s.Courses >= 1 && s.Courses <= 200 && s.Course > 0 && s.Breadth > 0 && s.Tread > s.Breadth && s.Riser > 0 && s.Width > 2*s.Breadth
	for _, v := range []float64{s.Riser, s.Tread, s.Course, s.Breadth, s.Bedding, s.Buried, s.Topping, s.Fill, s.Base, s.Pin, s.PinEnd, s.Width, s.Working, s.Batter} {
		ok = ok && v >= 0 && v <= 100
	}
	return ok && s.Wash >= 0 && s.Wash <= 0.5 && s.Tread <= 20
}

func (s *Detail) buildUp() float64 { return s.Topping + s.Fill + s.Base }

// stack is the height of all courses.
func (s *Detail) stack() float64 { return float64(float64(s.Courses) * s.Course) }

// detailDrawing is a detail being made. Heights are measured up from the nosing
// of the riser drawn whole, distances back from its face or to the right of the
// path's middle.
type detailDrawing struct {
	canvas
	s      *Detail
	w      DetailWords
	words  Words
	k      float64
	x0, y0 float64 // px of distance 0 and height 0
	left   float64 // px at which the callouts at the left end
	right  float64 // px at which those at the right begin
}

func (d *detailDrawing) x(v float64) float64 { return d.x0 + float64(v*d.k) }
func (d *detailDrawing) y(v float64) float64 { return d.y0 - float64(v*d.k) }

func (d *detailDrawing) length(m float64) string {
	if d.s.LengthText == nil {
		return strconv.FormatFloat(m, 'f', 3, 64) + " " + d.words.Metres
	}
	return clean(d.s.LengthText(m), 40)
}

// frame sets the scale for a drawing from x to x and from height to height.
func (s *Detail) drawing(class string, width float64, look Look, x0, x1, top, bottom, left, right float64) (detailDrawing, bool) {
	d := detailDrawing{s: s, w: s.Parts.filled(), words: s.Words.filled()}
	width = bounded(width)
	if !s.drawable() {
		d.canvas = newCanvas(class, s.Title, s.Desc, width, look)
		d.title()
		d.note(label{text: d.w.Nothing, class: "sw-note"})
		d.bottom += margin
		return d, false
	}
	if look = look.fitted(x1 - x0); look.scaled() {
		width = math.Max(minWidth, float64((x1-x0)*look.pxPerMetre())+left+right)
	} else if width < left+right+120 {
		left, right = 8, 8 // callouts go below
	}
	d.canvas = newCanvas(class, s.Title, s.Desc, width, look)
	d.title()
	d.k = (width - left - right) / (x1 - x0)
	if tall := math.Min(math.Max(1.1*width, 420), 1300); d.k*(top-bottom) > tall {
		d.k = tall / (top - bottom)
	}
	if look.scaled() {
		d.k = look.pxPerMetre()
	}
	d.left, d.right = left, width-right
	d.x0 = left + (width-left-right-float64(d.k*(x1-x0)))/2 - float64(x0*d.k)
	d.y0 = d.bottom + 26 + float64(top*d.k)
	d.bottom = d.y(bottom) + 10
	return d, true
}

// callout is a text beside the drawing, with a leader to the place it is about.
type callout struct {
	x, y  float64 // the place
	text  string
	class string
}

// callouts sets texts in a column, in the order of their places from the top,
// each with a leader; in a drawing too narrow for columns they stand below.
func (d *detailDrawing) callouts(list []callout, right bool) {
	const apart = smallSize + 5.0
	for i := 1; i < len(list); i++ {
		for j := i; j > 0 && list[j].y < list[j-1].y; j-- {
			list[j], list[j-1] = list[j-1], list[j]
		}
	}
	column := d.left > 20
	if right {
		column = d.width-d.right > 20
	}
	// A text takes as many lines as it needs beside the drawing.
	const line = smallSize + 2
	room := d.left - 8
	if right {
		room = d.width - d.right - 8
	}
	ys, lines := make([]float64, len(list)), make([][]string, len(list))
	below := func(i int) float64 { return apart + float64(line*float64(max(len(lines[i]), 1)-1)) }
	for i, c := range list {
		if column {
			lines[i] = wrap(clean(c.text, 80), room, smallSize)
		}
		ys[i] = c.y
		if i > 0 && ys[i] < ys[i-1]+below(i-1) {
			ys[i] = ys[i-1] + below(i-1)
		}
	}
	// What was pushed down is shared out upwards.
	for i := len(list) - 1; i >= 0; i-- {
		most := list[i].y + 2*apart
		if i < len(list)-1 && ys[i+1]-below(i) < most {
			most = ys[i+1] - below(i)
		}
		if ys[i] > most {
			ys[i] = most
		}
	}
	for i := 1; i < len(list); i++ {
		if ys[i] < ys[i-1]+below(i-1) {
			ys[i] = ys[i-1] + below(i-1)
		}
	}
	for i, c := range list {
		if !column {
			d.note(label{text: clean(c.text, 80), class: c.class})
			continue
		}
		l := label{x: d.right + 6, size: smallSize, anchor: start, class: c.class}
		elbow := d.right + 2
		if !right {
			l.x, l.anchor, elbow = d.left-6, finish, d.left-2
		}
		free := func() bool {
			for k, text := range lines[i] {
				l.text, l.y = text, ys[i]+4+float64(line*float64(k))
				if !d.p.free(l.box()) {
					return false
				}
			}
			return true
		}
		for tries := 0; tries < 40 && !free(); tries++ {
			ys[i] += 5
		}
		for k, text := range lines[i] {
			l.text, l.y = text, ys[i]+4+float64(line*float64(k))
			d.p.set(l)
		}
		var p path
		near := elbow - 12
		if !right {
			near = elbow + 12
		}
		p.move(elbow, ys[i]).to(near, ys[i])
		p.to(c.x, c.y)
		d.stroke("sw-leader", &p, 0.5, "")
		d.element("circle", "sw-leader", `cx="`+px(c.x)+`" cy="`+px(c.y)+`" r="1.4" fill="currentColor"`)
		d.bottom = math.Max(d.bottom, ys[i]+below(i))
	}
}

// timber draws a timber cut across: crossed diagonals mark end grain.
func (d *detailDrawing) timber(class string, x0, y0, x1, y1 float64, cut bool) {
	a, b, c, e := d.x(x0), d.y(y0), d.x(x1), d.y(y1)
	d.element("rect", class, `x="`+px(a)+`" y="`+px(b)+`" width="`+px(c-a)+`" height="`+px(e-b)+`" fill="none" stroke="currentColor" stroke-width="1.4"`)
	for _, s := range [][4]float64{{a, b, c, b}, {a, e, c, e}, {a, b, a, e}, {c, b, c, e}} {
		d.p.line(s[0], s[1], s[2], s[3])
	}
	if cut {
		var p path
		p.move(a, b).to(c, e)
		p.move(a, e).to(c, b)
		d.stroke(class+"-grain", &p, 0.5, "")
	}
}

// layer fills a four-sided area with a pattern, and outlines it finely.
func (d *detailDrawing) layer(class, pattern string, points ...XY) {
	var p path
	for i, v := range points {
		if i == 0 {
			p.move(d.x(v.Station), d.y(v.Level))
		} else {
			p.to(d.x(v.Station), d.y(v.Level))
		}
	}
	p.close()
	d.element("path", class, `fill="url(#`+d.id+`-`+pattern+`)" stroke="currentColor" stroke-width="0.5" d="`+p.String()+`"`)
}

// dim draws a dimension with its text: over a level one, beside or along an
// upright one.
func (d *detailDrawing) dim(class string, x0, y0, x1, y1 float64, text string) {
	d.dimension(class, x0, y0, x1, y1)
	l := label{text: text, size: smallSize, anchor: middle, class: "sw-dimension-text"}
	mx, my := (x0+x1)/2, (y0+y1)/2
	var c []label
	if x0 == x1 {
		if math.Abs(y1-y0) > textWidth(text, smallSize)+6 {
			u := l
			u.upright, u.x, u.y = true, x0-4, my
			c = append(c, u)
		}
		for _, dy := range []float64{0, -12, 12, 24, -24} {
			l.x, l.y, l.anchor = x0+6, my+4+dy, start
			c = append(c, l)
			l.x, l.anchor = x0-6, finish
			c = append(c, l)
		}
	} else {
		for _, dy := range []float64{-4, smallSize + 3} {
			l.x, l.y = mx, y0+dy
			c = append(c, l)
		}
		for _, dy := range []float64{4, -9, 17} {
			l.x, l.y, l.anchor = math.Max(x0, x1)+7, y0+dy, start
			c = append(c, l)
			l.x, l.anchor = math.Min(x0, x1)-7, finish
			c = append(c, l)
		}
	}
	if !d.p.place(c...) && !d.p.placeOver(c...) {
		d.note(label{text: text, class: "sw-dimension-text"})
	}
}

// courses says how a riser is made up.
func (d *detailDrawing) courses() string {
	if d.s.Courses == 1 {
		return d.w.Course + " " + d.length(d.s.Course)
	}
	return strconv.Itoa(d.s.Courses) + " " + d.w.Courses + " " + d.length(d.s.Course)
}

// SVG draws the section along the path, through the middle of one box, to fit a
// width in px or to the look's scale; see [Section.SVG].
func (s Detail) SVG(width float64, look Look) string {
	const front = 0.28
	back := s.Tread + s.Breadth + 0.22
	low := -s.Riser - math.Max(math.Max(s.buildUp(), s.Buried+s.Base), s.stack()-s.Riser+0.05)
	if s.Pin > 0 {
		low = math.Min(low, -s.Pin)
	}
	low -= 0.05
	high := s.Riser + float64(s.Wash*s.Tread) + 0.02
	d, ok := s.drawing("sw-step", width, look, -front, back, high, low, 150, 166)
	if !ok {
		return d.document()
	}
	d.along(front, back)
	return d.document()
}

func (d *detailDrawing) along(front, back float64) {
	s := d.s
	w, t, wash, r := s.Breadth, s.Tread, s.Wash, s.Riser
	h, stack, build := s.Course, s.stack(), s.buildUp()
	// surface of the tread in front, of this one and of the next at x.
	surface := func(i int) func(x float64) float64 {
		switch i {
		case 0:
			return func(x float64) float64 { return float64(wash*x) - r }
		case 1:
			return func(x float64) float64 { return wash * x }
		}
		return func(x float64) float64 { return float64(wash*x) + r }
	}
	bottoms := []struct {
		class, pattern string
		top, bottom    float64
	}{
		{"sw-topping", "topping", 0, s.Topping},
		{"sw-fill-gravel", "fillgravel", s.Topping, s.Topping + s.Fill},
		{"sw-base", "base", s.Topping + s.Fill, build},
	}
	// The space between two faces is one box; riser timbers stand in its front.
	boxes := []struct{ from, to, clear float64 }{{-front, 0, -front}, {0, t, w}, {t, back, t + w}}
	for i, b := range boxes {
		at := surface(i)
		for _, l := range bottoms {
			if l.bottom <= l.top {
				continue
			}
			from := b.clear
			// Below the riser's timbers the layer runs on to the box's front.
			under := at(b.from) - stack // underside of the timber in this box
			a, c := at(from)-l.top, at(from)-l.bottom
			d.layer(l.class, l.pattern, XY{from, a}, XY{b.to, at(b.to) - l.top}, XY{b.to, at(b.to) - l.bottom}, XY{from, c})
			if i > 0 && at(b.from)-l.bottom < under-1e-6 {
				top := math.Min(under, at(b.from)-l.top)
				d.layer(l.class, l.pattern, XY{b.from, top}, XY{from, math.Min(under, at(from)-l.top)}, XY{from, c}, XY{b.from, at(b.from) - l.bottom})
			}
		}
	}
	// Trenches below the riser timbers, and bedding in them.
	foot := []float64{0, t}
	for _, x := range foot {
		nose := float64(wash * x)
		if x > 0 {
			nose += r
		}
		front := nose - r // surface in front, at the face
		bed := nose - stack
		low := nose - build // the ground under the timber is left where no trench goes
		if deep := front - s.Buried - s.Base; s.Buried+s.Base > build && deep < low {
			low = deep
		}
		if bed > low+1e-6 {
			d.layer("sw-bedding", "base", XY{x, bed}, XY{x + w, bed}, XY{x + w, low}, XY{x, low})
		}
	}
	// Formation, stepped.
	var form path
	for i, b := range boxes {
		at := surface(i)
		switch {
		case i > 0 && stack > build:
			form.move(d.x(b.clear), d.y(at(b.clear)-build)) // not through the timber
		case i > 0:
			form.to(d.x(b.from), d.y(at(b.from)-build))
		default:
			form.move(d.x(b.from), d.y(at(b.from)-build))
		}
		form.to(d.x(b.to), d.y(at(b.to)-build))
		d.p.line(d.x(b.from), d.y(at(b.from)-build), d.x(b.to), d.y(at(b.to)-build))
	}
	d.stroke("sw-formation", &form, 1.1, `stroke-dasharray="5 2.5"`)

	// Side timbers, behind the gravel of the section.
	overlap := t
	if s.Buried == 0 {
		overlap += w
	}
	var side path
	for i := range s.Courses {
		up, down := -float64(float64(i)*h), -float64(float64(i+1)*h)
		side.move(d.x(w), d.y(float64(wash*w)+up)).to(d.x(overlap), d.y(float64(wash*overlap)+up))
		side.to(d.x(overlap), d.y(float64(wash*overlap)+down))
		side.to(d.x(w), d.y(float64(wash*w)+down))
		side.close()
	}
	d.stroke("sw-side", &side, 0.8, `stroke-dasharray="3 2"`)

	// Riser timbers.
	for _, x := range foot {
		nose := float64(wash * x)
		if x > 0 {
			nose += r
		}
		for i := range s.Courses {
			d.timber("sw-timber", x, nose-float64(float64(i)*h), x+w, nose-float64(float64(i+1)*h), true)
		}
	}
	// Surfaces.
	var top path
	for i, b := range boxes {
		at := surface(i)
		from := b.clear
		top.move(d.x(from), d.y(at(from))).to(d.x(b.to), d.y(at(b.to)))
		d.p.line(d.x(from), d.y(at(from)), d.x(b.to), d.y(at(b.to)))
	}
	d.stroke("sw-steps", &top, 2, "")

	// Pins.
	var left, right []callout
	if s.Pin > 0 {
		var p path
		pin := func(x, from float64) {
			p.move(d.x(x), d.y(from)).to(d.x(x), d.y(from-s.Pin))
		}
		pin(w/2, 0)
		d.p.line(d.x(w/2), d.y(0), d.x(w/2), d.y(-s.Pin))
		d.stroke("sw-pin", &p, 1.6, `stroke-dasharray="7 2"`)
		left = append(left, callout{d.x(w / 2), d.y(-s.Pin * 0.93), d.w.Pin + " " + d.length(s.Pin), "sw-pin-text"})
	}

	// Callouts: layers at the right, at the end of the next tread.
	at := surface(1)
	mid := t - float64(0.12*(t-w))
	for _, l := range []struct {
		word     string
		top, end float64
	}{{d.w.Topping, 0, s.Topping}, {d.w.Fill, s.Topping, s.Topping + s.Fill}, {d.w.Base, s.Topping + s.Fill, build}} {
		if l.end > l.top {
			right = append(right, callout{d.x(mid), d.y(at(mid) - (l.top+l.end)/2), l.word + " " + d.length(l.end-l.top), "sw-layer-text"})
		}
	}
	right = append(right, callout{d.x(mid), d.y(at(mid) - build), d.w.BuildUp + " " + d.length(build), "sw-formation-text"})
	right = append(right, callout{d.x(t + float64(w*0.8)), d.y(float64(wash*t) + r - float64(0.25*h)), d.w.NextRiser, "sw-riser-text"})
	if s.WashText != "" {
		x := w + float64(0.3*(t-w))
		right = append(right, callout{d.x(x), d.y(at(x)), d.w.Wash + " " + s.WashText, "sw-wash-text"})
	}
	left = append(left, callout{d.x(w * 0.3), d.y(-0.5 * h), d.courses(), "sw-course-text"})
	if s.Bedding > 0 {
		left = append(left, callout{d.x(w * 0.3), d.y(-stack - s.Bedding/2), d.w.Bedding + " " + d.length(s.Bedding), "sw-bedding-text"})
	}
	if s.Buried > 0 {
		left = append(left, callout{d.x(w * 0.3), d.y(-r - s.Buried/2), d.w.Buried + " " + d.length(s.Buried), "sw-buried-text"})
	}
	y := float64(-0.4 * h)
	x := w + float64(0.12*(t-w))
	left = append(left, callout{d.x(x), d.y(float64(wash*x) + y), d.w.Side, "sw-side-text"})

	// Dimensions.
	x0 := d.x(-0.12)
	d.line("sw-extension", x0-3, d.y(0), d.x(0), d.y(0), 0.5, `stroke-opacity="0.6"`)
	d.dimension("sw-riser-height", x0, d.y(-r-float64(wash*0.12)), x0, d.y(0))
	left = append(left, callout{x0, d.y(-0.25 * r), d.w.Riser + " " + d.length(r), "sw-riser-text"})
	d.callouts(left, false)
	d.callouts(right, true)
	y0 := d.y(r + float64(wash*t) + 0.01)
	y0 -= 12
	d.line("sw-extension", d.x(0), d.y(0), d.x(0), y0-3, 0.5, `stroke-opacity="0.6"`)
	d.line("sw-extension", d.x(t), d.y(r+float64(wash*t)), d.x(t), y0-3, 0.5, `stroke-opacity="0.6"`)
	d.dim("sw-tread", d.x(0), y0, d.x(t), y0, d.w.Tread+" "+d.length(t))
	d.line("sw-extension", d.x(w), d.y(0), d.x(w), d.y(0)-18, 0.5, `stroke-opacity="0.6"`)
	d.dim("sw-breadth", d.x(0), d.y(0)-14, d.x(w), d.y(0)-14, d.length(w))

	d.finish()
}

// finish adds the scale bar.
func (d *detailDrawing) finish() {
	d.scaleBar(d.k, math.Max(d.left, margin+10), d.s.Feet, d.words)
	d.bottom += 6
}

// AcrossSVG draws the section across the path, looking uphill at a riser.
func (s Detail) AcrossSVG(width float64, look Look) string {
	build := s.buildUp()
	half := s.Width/2 + s.Working
	deep := s.Riser + build // of the formation in front, below the nosing
	out := half + float64(s.Batter*deep) + 0.25
	low := -math.Max(deep, s.stack()) - 0.06
	if s.Pin > 0 {
		low = math.Min(low, -s.Pin-0.04)
	}
	if s.Buried+s.Base > build {
		low = math.Min(low, -s.Riser-s.Buried-s.Base-0.04)
	}
	d, ok := s.drawing("sw-across", width, look, -out, out, 0.03, low, 8.5, 150)
	if !ok {
		return d.document()
	}
	d.left = 8
	d.across(half, deep, out)
	return d.document()
}

func (d *detailDrawing) across(half, deep, out float64) {
	s := d.s
	w, h, r, build := s.Breadth, s.Course, s.Riser, s.buildUp()
	// The dig: formation in front of the riser, sides battered to a ground
	// drawn level with the nosing.
	var dig path
	side := half + float64(s.Batter*deep)
	pts := []XY{{-out, 0}, {-side, 0}, {-half, -deep}, {half, -deep}, {side, 0}, {out, 0}}
	for i, v := range pts {
		if i == 0 {
			dig.move(d.x(v.Station), d.y(v.Level))
			continue
		}
		dig.to(d.x(v.Station), d.y(v.Level))
		d.p.line(d.x(pts[i-1].Station), d.y(pts[i-1].Level), d.x(v.Station), d.y(v.Level))
	}
	d.stroke("sw-dig", &dig, 1.6, `stroke-linejoin="round"`)
	// Layers of the tread in front, between its side timbers.
	inner := s.Width/2 - w
	for _, l := range []struct {
		class, pattern string
		top, bottom    float64
	}{{"sw-topping", "topping", 0, s.Topping}, {"sw-fill-gravel", "fillgravel", s.Topping, s.Topping + s.Fill}, {"sw-base", "base", s.Topping + s.Fill, build}} {
		if l.bottom > l.top {
			d.layer(l.class, l.pattern, XY{-inner, -r - l.top}, XY{inner, -r - l.top}, XY{inner, -r - l.bottom}, XY{-inner, -r - l.bottom})
		}
	}
	// Side timbers of the box in front, cut across; base below them.
	for _, sign := range []float64{-1, 1} {
		a, b := sign*s.Width/2, sign*inner
		if a > b {
			a, b = b, a
		}
		for i := range s.Courses {
			d.timber("sw-side", a, -r-float64(float64(i)*h), b, -r-float64(float64(i+1)*h), true)
		}
		if under := -r - s.stack(); under > -deep+1e-6 {
			d.layer("sw-bedding", "base", XY{a, under}, XY{b, under}, XY{b, -deep}, XY{a, -deep})
		}
		// Earth tamped in beside them.
		edge := sign * (half + float64(s.Batter*build))
		d.layer("sw-backfill", "earth", XY{sign * s.Width / 2, -r}, XY{edge, -r}, XY{sign * half, -deep}, XY{sign * s.Width / 2, -deep})
	}
	// The riser seen beyond.
	for i := range s.Courses {
		up := -float64(i) * h
		down := math.Max(-float64(i+1)*h, -r)
		if up <= -r {
			break
		}
		d.timber("sw-timber", -s.Width/2, up, s.Width/2, down, false)
	}
	var pins path
	if s.Pin > 0 && s.PinEnd > 0 && s.PinEnd < s.Width/2 {
		for _, sign := range []float64{-1, 1} {
			x := sign * (s.Width/2 - s.PinEnd)
			pins.move(d.x(x), d.y(0)).to(d.x(x), d.y(-s.Pin))
		}
		d.stroke("sw-pin", &pins, 1.4, `stroke-dasharray="7 2"`)
		y := d.y(0) - 6
		d.dim("sw-pin-end", d.x(s.Width/2-s.PinEnd), y, d.x(s.Width/2), y, d.length(s.PinEnd))
	}
	var right []callout
	right = append(right,
		callout{d.x(half + float64(s.Batter*deep*0.7)), d.y(-deep * 0.3), d.w.Batter + " " + s.BatterText, "sw-batter-text"},
		callout{d.x(s.Width/2 + float64(s.Working*0.5)), d.y(-deep + float64(build*0.4)), d.w.Working + " " + d.length(s.Working), "sw-working-text"},
		callout{d.x(s.Width / 2 * 0.2), d.y(-r / 2), d.w.Riser + " " + d.length(r), "sw-riser-text"},
	)
	if s.Working == 0 {
		right = append(right[:1], right[2:]...)
	}
	if s.Pin > 0 && s.PinEnd > 0 && s.PinEnd < s.Width/2 {
		right = append(right, callout{d.x(s.Width/2 - s.PinEnd), d.y(-s.Pin * 0.96), d.w.Pin + " " + d.length(s.Pin), "sw-pin-text"})
	}
	d.callouts(right, true)
	y := d.bottom + smallSize + 4
	for _, v := range []struct {
		class, word string
		half        float64
	}{{"sw-width", d.w.Width, s.Width / 2}, {"sw-formation-width", d.w.Formation, half}} {
		d.line("sw-extension", d.x(-v.half), d.y(-deep), d.x(-v.half), y+3, 0.5, `stroke-opacity="0.6"`)
		d.line("sw-extension", d.x(v.half), d.y(-deep), d.x(v.half), y+3, 0.5, `stroke-opacity="0.6"`)
		d.dimension(v.class, d.x(-v.half), y, d.x(v.half), y)
		d.p.set(label{text: v.word + " " + d.length(2*v.half), x: d.x(0), y: y - 4, size: smallSize, anchor: middle, class: "sw-dimension-text"})
		y += smallSize + 10
	}
	d.bottom = y - smallSize - 4
	d.finish()
}
