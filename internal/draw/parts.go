package draw

import (
	"math"
	"strconv"
	"strings"
)

// staff draws a graduated staff at the left, black and white by turns, with
// fine lines at its graduations across the drawing.
func (d *drawing) staff(minY, maxY float64) {
	u, word := 1.0, d.words.Metres
	if d.s.Feet {
		u, word = footMetres, d.words.Feet
	}
	// About a dozen graduations, but none closer than their numbers.
	step := interval(d.f.k, math.Min(math.Max((d.f.floor-d.f.y0)/14, 17), 48), d.s.Feet)
	lo, hi := math.Floor(minY/u/step+1e-9), math.Ceil(maxY/u/step-1e-9)
	if hi <= lo {
		hi = lo + 1
	}
	// The last graduation may stand above the highest line, but no further
	// than there is room for, or less than one is left.
	if d.f.y(hi*step*u) < d.f.y0-24 && hi > lo+1 {
		hi--
	}
	if d.f.y(lo*step*u) > d.f.floor+12 && hi > lo+1 {
		lo++
	}
	top := math.Max(d.f.y(hi*step*u), d.f.y0-28)
	foot := math.Min(d.f.y(lo*step*u), d.f.floor+14)
	const x, w = 36.0, 5.0
	for i := lo; i <= hi; i++ {
		y := d.f.y(i * step * u)
		if y < top-0.01 || y > foot+0.01 {
			continue
		}
		d.line("sw-level", x, y, d.f.right, y, 0.5, `stroke-opacity="0.22"`)
		if i < hi {
			above := math.Max(d.f.y((i+1)*step*u), top)
			fill := "none"
			if math.Mod(i, 2) == 0 {
				fill = "currentColor"
			}
			d.element("rect", "sw-staff", `x="`+px(x)+`" y="`+px(above)+`" width="`+px(w)+`" height="`+px(y-above)+
				`" fill="`+fill+`" stroke="currentColor" stroke-width="0.7"`)
		}
		d.p.placeOver(label{text: plainNumber(i * step), x: x - 4, y: y + 4, size: smallSize, anchor: finish, class: "sw-level-text"})
	}
	d.p.line(x+w, top, x+w, foot)
	d.p.placeOver(
		label{text: word, x: x + w/2, y: top - 4, size: smallSize, anchor: middle, class: "sw-level-text"},
		label{text: word, x: x - 4, y: top - 10, size: smallSize, anchor: finish, class: "sw-level-text"},
		// Close under the title there is room beside the staff.
		label{text: word, x: x + w + 3, y: top - 3, size: smallSize, anchor: start, class: "sw-level-text"},
		label{text: word, x: x + w + 3, y: top + ascent*smallSize + 2, size: smallSize, anchor: start, class: "sw-level-text"},
	)
}

// markHalf is half as wide as what a page lays on a reading, with a little air, in px.
const markHalf = 6.5

// readings draws a fine line up from the datum line to the ground at each
// reading, and down to it from the setting-out string.
func (d *drawing) readings() {
	if len(d.s.Readings) == 0 {
		return
	}
	y := d.bottom
	d.line("sw-datum", d.f.x0, y, d.f.right, y, 0.8, "")
	d.p.line(d.f.x0, y, d.f.right, y)
	var p, q path
	last := math.Inf(-1)
	for _, x := range d.s.Readings {
		gx, gy := d.f.x(x), d.f.y(levelAt(d.s.Ground, x))
		// Lines closer than this would run together to a grey.
		if !d.inside(x) || math.Abs(gx-last) < 5 {
			continue
		}
		last = gx
		p.move(gx, y+4).to(gx, gy)
		// A page lays a mark of this size on the point itself.
		d.p.line(gx-markHalf, gy, gx+markHalf, gy)
		d.p.line(gx, gy-markHalf, gx, gy+markHalf)
		if t := d.s.String; t != nil && x >= t.From && x <= t.To {
			sy := d.f.y(t.Level)
			q.move(gx, sy-3).to(gx, sy+3)
			q.move(gx, sy+3).to(gx, gy)
		}
	}
	d.stroke("sw-reading", &p, 0.5, `stroke-opacity="0.45"`)
	d.stroke("sw-drop", &q, 0.7, `stroke-dasharray="1 2"`)
}

// inside says whether a station is on the ground.
func (d *drawing) inside(x float64) bool {
	g := d.s.Ground
	return x >= g[0].Station && x <= g[len(g)-1].Station
}

// earth draws cut, made ground and gravel as hatched areas, and the formation.
func (d *drawing) earth() {
	cut, fill := areas(d.s.Ground, d.s.Formation)
	var gravel [][]XY
	for _, t := range d.s.Steps {
		if t.TreadEnd > t.Station && !t.Framed {
			over, _ := areas([]XY{{t.Station, t.Level}, {t.TreadEnd, t.EndLevel}}, d.near(t.Station, t.TreadEnd))
			gravel = append(gravel, over...)
		}
	}
	// The last box runs back into the bank behind the head.
	if n := len(d.s.Formation); n > 0 && d.s.hasPath() {
		head, end := d.s.Head, d.s.Formation[n-1].To.Station
		over, _ := areas([]XY{head, {end, head.Level}}, d.near(head.Station, end))
		gravel = append(gravel, over...)
	}
	d.has.cut, d.has.fill, d.has.gravel = d.seen(cut), d.seen(fill), d.seen(gravel)
	d.area("sw-fill", fill, "fill")
	d.area("sw-cut", cut, "cut")
	d.area("sw-gravel", gravel, "gravel")
	var p path
	for _, f := range d.s.Formation {
		p.move(d.f.x(f.From.Station), d.f.y(f.From.Level)).to(d.f.x(f.To.Station), d.f.y(f.To.Level))
		d.keepOff(f.From, f.To)
	}
	d.stroke("sw-formation", &p, 1, `stroke-dasharray="5 2.5"`)
}

// seen says whether polygons are large enough to be made out: the key does not
// explain what nobody can find.
func (d *drawing) seen(polygons [][]XY) bool {
	m2 := 0.0
	for _, p := range polygons {
		m2 += math.Abs(area(p))
	}
	return m2*d.f.k*d.f.k > 20
}

// near gives the pieces of formation that reach into a stretch. Pieces ascend,
// so the rest need not be looked at; a piece may be long, so all before must.
func (d *drawing) near(from, to float64) []Piece {
	var near []Piece
	for _, p := range d.s.Formation {
		if p.From.Station >= to {
			break
		}
		if p.To.Station > from {
			near = append(near, p)
		}
	}
	return near
}

// area draws polygons filled with a pattern.
func (d *drawing) area(class string, polygons [][]XY, pattern string) {
	var p path
	for _, poly := range polygons {
		for i, v := range poly {
			if i == 0 {
				p.move(d.f.x(v.Station), d.f.y(v.Level))
			} else {
				p.to(d.f.x(v.Station), d.f.y(v.Level))
			}
		}
		p.close()
	}
	if len(polygons) > 0 {
		d.element("path", class, `fill="url(#`+d.id+`-`+pattern+`)" d="`+p.String()+`"`)
	}
}

// ground draws the ground line.
func (d *drawing) ground() {
	g := d.s.Ground
	var line path
	line.move(d.f.x(g[0].Station), d.f.y(g[0].Level))
	for i := 1; i < len(g); i++ {
		line.to(d.f.x(g[i].Station), d.f.y(g[i].Level))
		d.keepOff(g[i-1], g[i])
	}
	d.stroke("sw-ground", &line, 2, `stroke-linejoin="round"`)
}

// earthSymbol marks the ground line as ground: groups of three strokes below
// it, slanting against the hatching of cut. Labels go first: a stroke that
// would lie on one is left out.
func (d *drawing) earthSymbol() {
	const group, apart, stroke, most = 42.0, 4.0, 7.0, 1200
	var ticks path
	g := d.s.Ground
	// done is the way along the line so far and next the way to the next
	// stroke, in px.
	next, done, count := group/2, 0.0, 0
	for i := 1; i < len(g); i++ {
		x0, y0 := d.f.x(g[i-1].Station), d.f.y(g[i-1].Level)
		x1, y1 := d.f.x(g[i].Station), d.f.y(g[i].Level)
		length := math.Hypot(x1-x0, y1-y0)
		if length < 1e-6 {
			continue
		}
		tx, ty := (x1-x0)/length, (y1-y0)/length
		nx, ny := -ty, tx // into the earth
		for ; next <= done+length && count < most; count++ {
			sx, sy := x0+float64(tx*(next-done)), y0+float64(ty*(next-done))
			t := segment{sx, sy, sx + float64(stroke*(float64(0.75*nx)+float64(0.66*tx))), sy + float64(stroke*(float64(0.75*ny)+float64(0.66*ty)))}
			if !d.p.onLabel(t) {
				ticks.move(t.x0, t.y0).to(t.x1, t.y1)
			}
			next += apart
			if count%3 == 2 {
				next += group - 3*apart
			}
		}
		done += length
	}
	d.stroke("sw-earth", &ticks, 0.8, "")
}

// steps draws the finished surface from the foot to the head.
func (d *drawing) steps() {
	if len(d.s.Steps) == 0 {
		return
	}
	var p path
	last := XY{d.s.Steps[0].Station, d.s.Steps[0].Level}
	if d.s.hasPath() {
		last = d.s.Foot
	}
	p.move(d.f.x(last.Station), d.f.y(last.Level))
	to := func(v XY) {
		if v == last {
			return
		}
		p.to(d.f.x(v.Station), d.f.y(v.Level))
		d.keepOff(last, v)
		last = v
	}
	for _, t := range d.s.Steps {
		to(XY{t.Station, t.Level})
		to(XY{t.TreadEnd, t.EndLevel})
	}
	if d.s.hasPath() {
		to(d.s.Head)
	}
	d.stroke("sw-steps", &p, 1.4, `stroke-linejoin="miter"`)
}

// keepOff keeps labels off the line between two points.
func (d *drawing) keepOff(a, b XY) {
	d.p.line(d.f.x(a.Station), d.f.y(a.Level), d.f.x(b.Station), d.f.y(b.Level))
}

func (d *drawing) levelString() {
	t := d.s.String
	if t == nil {
		return
	}
	from, to, y := d.f.x(t.From), d.f.x(t.To), d.f.y(t.Level)
	d.line("sw-string", from, y, to, y, 0.9, "")
	d.keepOff(XY{t.From, t.Level}, XY{t.To, t.Level})
	for _, x := range []float64{from, to} {
		d.element("circle", "sw-string", `cx="`+px(x)+`" cy="`+px(y)+`" r="2" fill="currentColor"`)
	}
	l := label{text: d.words.String, size: textSize, class: "sw-string-text"}
	var c []label
	for _, dy := range []float64{-6, 16} {
		for _, at := range []anchor{start, finish} {
			l.anchor, l.x, l.y = at, from+6, y+dy
			if at == finish {
				l.x = to - 6
			}
			c = append(c, l)
		}
	}
	d.p.place(c...)
}

// chain draws the row of dimensions of the flights and landings. A text stands
// on its part of the line; where that is too short, below it at the end of a
// leader.
func (d *drawing) chain() {
	c := d.s.Chain
	if len(c) == 0 {
		return
	}
	y := d.bottom + textSize + 6
	var p, ticks path
	for _, x := range c {
		a, b := d.f.x(x.From), d.f.x(x.To)
		p.move(a, y).to(b, y)
		for _, e := range []float64{a, b} {
			p.move(e-3.5, y+3.5).to(e+3.5, y-3.5)
		}
		last := a
		for _, t := range x.Ticks {
			if e := d.f.x(t); e-last > 2 {
				ticks.move(e, y-3).to(e, y+3)
				last = e
			}
		}
	}
	first, last := d.f.x(c[0].From), d.f.x(c[len(c)-1].To)
	d.p.line(first, y, last, y)
	d.stroke("sw-chain", &p, 0.8, "")
	d.stroke("sw-chain-tick", &ticks, 0.6, "")
	var below []label
	for _, x := range c {
		a, b := d.f.x(x.From), d.f.x(x.To)
		l := label{x: (a + b) / 2, y: y - 4, size: smallSize, anchor: middle, class: "sw-chain-text"}
		done := false
		for _, text := range []string{x.Text, x.Short} {
			l.text = clean(text, 60)
			if l.text != "" && textWidth(l.text, l.size) <= b-a-4 && d.p.place(l) {
				done = true
				break
			}
		}
		if l.text == "" {
			l.text = clean(x.Text, 60)
		}
		if !done && l.text != "" {
			below = append(below, l)
		}
	}
	undo := d.p.mark()
	leaders, rows := d.led(below, y)
	if rows == 0 && len(below) > 0 {
		undo()
		y += 10
		leaders, rows = d.fanned(below, y)
	}
	d.stroke("sw-chain-leader", &leaders, 0.5, "")
	d.bottom = y + 6 + float64(float64(rows)*(smallSize+3))
}

// led puts texts of the chain about under their places on its line at y, at the ends of
// leaders, and gives how many rows they take: two, or 0 where one finds no room.
func (d *drawing) led(texts []label, y float64) (leaders path, rows int) {
	for _, l := range texts {
		x, found := l.x, false
		for row := 1; row <= 2 && !found; row++ {
			for _, dx := range []float64{0, 14, -14, 28, -28, 44, -44} {
				l.x, l.y = x+dx, y+6+float64(float64(row)*(smallSize+3))
				leader := segment{x, y + 2, l.x, l.y - ascent*smallSize + 1}
				if d.p.onLabel(leader) || !d.p.place(l) {
					continue
				}
				leaders.move(leader.x0, leader.y0).to(leader.x1, leader.y1)
				d.p.line(leader.x0, leader.y0, leader.x1, leader.y1)
				found, rows = true, max(rows, row)
				break
			}
		}
		if !found {
			return path{}, 0
		}
	}
	return leaders, rows
}

// fanned finds room for all: the leaders spread so far to the left that each text has
// room to the right of its own, and the further left, the lower it stands, so that no
// leader meets a text. y is 10 px below the line.
func (d *drawing) fanned(texts []label, y float64) (leaders path, rows int) {
	next := d.width
	for n := len(texts) - 1; n >= 0; n-- {
		l := texts[n]
		x := l.x
		next = math.Min(math.Min(x, next-6), d.width-textWidth(l.text, l.size)-6)
		l.x, l.anchor = next+3, start
		for row := 1; row <= len(texts); row++ {
			l.y = y + 6 + float64(float64(row)*(smallSize+3))
			if d.p.onLabel(segment{next, y, next, l.y}) || !d.p.place(l) {
				continue
			}
			leaders.move(x, y-8).to(next, y+2).to(next, l.y)
			d.p.line(next, y+2, next, l.y)
			rows = max(rows, row)
			break
		}
	}
	return leaders, rows
}

// dimensions draws rise, run and deepest cut. Those that find no room among
// the lines are given back, to stand below.
func (d *drawing) dimensions() (notes []label) {
	if !d.s.hasPath() {
		return d.deepest()
	}
	foot, head := d.s.Foot, d.s.Head
	x0, y0 := d.f.x(foot.Station), d.f.y(foot.Level)
	x1, y1 := d.f.x(head.Station), d.f.y(head.Level)

	// Rise, upright at the right.
	x := d.width - 14
	var ext path
	ext.move(x0, y0).to(x+4, y0)
	ext.move(x1, y1).to(x+4, y1)
	d.p.line(x1, y0, x+4, y0)
	d.p.line(x1, y1, x+4, y1)
	d.stroke("sw-extension", &ext, 0.5, `stroke-opacity="0.6" stroke-dasharray="8 2 1 2"`)
	d.dimension("sw-rise", x, y0, x, y1)
	rise := d.words.Rise + " " + d.length(head.Level-foot.Level)
	l := label{text: rise, x: x - 4, y: (y0 + y1) / 2, size: textSize, anchor: middle, upright: true, class: "sw-dimension-text"}
	upright := math.Abs(y0-y1) >= textWidth(rise, textSize)+8 && d.p.placeOver(l)
	if !upright {
		var c []label
		l.upright, l.anchor = false, finish
		for _, y := range []float64{(y0+y1)/2 + 4, y0 - 6, y1 + 16, y0 + 15, y1 - 8} {
			for _, x := range []float64{x - 6, x + 6} {
				l.x, l.y = x, y
				c = append(c, l)
			}
		}
		if !d.p.place(c...) {
			notes = append(notes, l)
		}
	}
	notes = append(notes, d.deepest()...)

	// Run, below the datum line and its labels.
	if len(d.s.Readings) > 0 {
		d.bottom += 4 + smallSize + 6
	}
	d.chain()
	y := d.bottom + textSize + 6
	d.ends = [2]segment{{x0, y0, x0, y + 4}, {x1, y1, x1, y + 4}}
	d.dimension("sw-run", x0, y, x1, y)
	run := clip(d.words.Run+" "+d.length(head.Station-foot.Station), d.width-2*margin, textSize)
	l = label{text: run, x: (x0 + x1) / 2, y: y - 4, size: textSize, anchor: middle, class: "sw-dimension-text"}
	// Keep it in the drawing when the path is narrower than the text.
	half := textWidth(run, textSize) / 2
	l.x = math.Max(half+margin, math.Min(l.x, d.width-half-margin))
	d.p.set(l)
	d.bottom = y + 10
	return notes
}

// fall draws the lines from foot and head down to the run, with a gap for each text
// that stands in their way.
func (d *drawing) fall() {
	var p path
	for _, e := range d.ends {
		for y := e.y0; y < e.y1; {
			next, end := e.y1, e.y1 // where the nearest text below y begins, and ends
			for _, b := range d.p.boxes {
				if b.x0 < e.x0 && e.x0 < b.x1 && b.y1 > y && b.y0 < next {
					next, end = b.y0, b.y1
				}
			}
			if next > y {
				p.move(e.x0, y).to(e.x0, next)
			}
			y = end
		}
	}
	d.stroke("sw-extension", &p, 0.5, `stroke-opacity="0.6"`)
}

// deepest marks the deepest cut, in the colour of cut.
func (d *drawing) deepest() (notes []label) {
	t := d.s.Deepest
	if t == nil || t.Depth <= 0 || !d.inside(t.Station) {
		return nil
	}
	level := levelAt(d.s.Ground, t.Station)
	x, top, foot := d.f.x(t.Station), d.f.y(level), d.f.y(level-t.Depth)
	var p path
	p.move(x, top).to(x, foot)
	p.move(x-4, top).to(x+4, top)
	p.move(x-4, foot).to(x+4, foot)
	text := d.words.DeepestCut + " " + d.length(t.Depth)
	l := label{text: text, size: textSize, class: "sw-deepest-text", colour: d.look.cut()}
	// A leader goes up from the ground or down from the formation to a text
	// that ends or begins at it.
	for _, up := range []bool{true, false} {
		for _, dy := range []float64{12, 20, 30, 44, 60, 80} {
			for _, at := range []anchor{finish, start} {
				from, y := top, top-dy
				l.x, l.y, l.anchor = x-6, y+4, at
				if !up {
					from, y = foot, foot+dy
					l.y = y + 4
				}
				if at == start {
					l.x = x + 6
				}
				b := l.box()
				datum := d.f.y(d.s.Foot.Level) // the line the rise is measured from
				if b.y1 > d.bottom-2 || d.s.hasPath() && b.y0 < datum && datum < b.y1 || !d.p.place(l) {
					continue
				}
				end := x - 4
				if at == start {
					end = x + 4
				}
				p.move(x, from).to(x, y)
				p.to(end, y)
				d.leader(&p)
				return nil
			}
		}
	}
	d.leader(&p)
	return []label{l}
}

func (d *drawing) leader(p *path) {
	d.element("path", "sw-deepest", `fill="none" stroke="`+d.look.cut()+`" stroke-width="1.2" d="`+p.String()+`"`)
}

// stepLabels numbers the risers and names the landings: landings first, then
// the first and the last riser, every fifth, and those between that find room.
// A number stands in the earth below its tread, where nothing else is, or if
// that is taken on the nosing.
func (d *drawing) stepLabels() {
	steps := d.s.Steps
	done := make([]bool, len(steps))
	place := func(i int, word string) {
		t := steps[i]
		lowest := math.Min(t.Level, t.EndLevel)
		for _, p := range d.near(t.Station, t.TreadEnd) {
			lowest = math.Min(lowest, math.Min(p.at(t.Station), p.at(t.TreadEnd)))
		}
		framed := t.Framed || len(d.near(t.Station, t.TreadEnd)) == 0
		below := label{text: strconv.Itoa(t.Riser), size: smallSize, anchor: middle, class: "sw-riser-text"}
		below.x, below.y = d.f.x((t.Station+t.TreadEnd)/2), d.f.y(lowest)+ascent*smallSize+2.5
		on := below
		on.x, on.y = d.f.x(t.Station), d.f.y(t.Level)-4
		if word != "" {
			// Earth to the right of a step is free further up.
			below.text += " " + word
			below.class = "sw-landing-text"
			below.x, below.anchor = d.f.x(t.Station)+3, start
			on.text, on.class, on.x, on.anchor = below.text, below.class, below.x, start
		}
		beside := on // for the last riser, which has no tread
		beside.x, beside.y, beside.anchor = d.f.x(t.Station)+4, d.f.y(t.Level)+ascent*smallSize+3, start
		// Clear of a point of the ground, a little further off.
		deeper, deepest, higher := below, below, on
		deeper.y += markHalf
		deepest.y += 2 * markHalf
		higher.y -= markHalf
		under := []label{below, deeper, deepest}
		for len(under) > 1 && under[len(under)-1].y > d.f.floor+12 { // among the stations
			under = under[:len(under)-1]
		}
		done[i] = (framed || d.buried(below)) && d.p.place(under...) ||
			d.sky(on) && d.p.place(on, higher) ||
			i == len(steps)-1 && d.p.place(beside)
	}
	for i, t := range steps {
		if t.Landing {
			place(i, d.words.Landing)
		}
	}
	n := len(steps)
	for _, chosen := range []func(i int) bool{
		func(i int) bool { return i == 0 || i == n-1 },
		func(i int) bool { return steps[i].Riser%5 == 0 },
		func(i int) bool { return true },
	} {
		for i := range steps {
			if !done[i] && chosen(i) {
				place(i, "")
			}
		}
	}
}

// sky says whether a label begins and ends above the ground, and so lies on no
// hatching, given that it crosses no line.
func (d *drawing) sky(l label) bool {
	b := l.box()
	return b.y1 < d.groundAt(b.x0) && b.y1 < d.groundAt(b.x1)
}

// buried says the same of a label below the ground.
func (d *drawing) buried(l label) bool {
	b := l.box()
	return b.y0 > d.groundAt(b.x0) && b.y0 > d.groundAt(b.x1)
}

// groundAt is the y of the ground at an x, in px.
func (d *drawing) groundAt(x float64) float64 {
	return d.f.y(levelAt(d.s.Ground, d.f.minX+(x-d.f.x0)/d.f.k))
}

// spread calls put for 0 to n-1: both ends, then halving the gaps, so that
// those that find room are spread evenly.
func spread(n int, put func(i int)) {
	if n == 0 {
		return
	}
	put(0)
	if n > 1 {
		put(n - 1)
	}
	type gap struct{ a, b int }
	for gaps := []gap{{0, n - 1}}; len(gaps) > 0; gaps = gaps[1:] {
		a, b := gaps[0].a, gaps[0].b
		if b-a < 2 {
			continue
		}
		m := (a + b) / 2
		put(m)
		gaps = append(gaps, gap{a, m}, gap{m, b})
	}
}

// stationLabels writes the stations of the readings under the datum line: both
// ends, then halving the gaps, so that those that find room are spread evenly.
func (d *drawing) stationLabels() {
	r := d.s.Readings
	if len(r) == 0 {
		return
	}
	y := d.f.floor + 14 + 4 + smallSize
	put := func(i int) {
		if d.inside(r[i]) {
			d.p.placeOver(label{text: d.length(r[i]), x: d.f.x(r[i]), y: y, size: smallSize, anchor: middle, class: "sw-station-text"})
		}
	}
	spread(len(r), put)
	if !d.s.hasPath() {
		d.bottom += 4 + smallSize + 6
	}
}

// scaleBar draws the bar and says that heights are not exaggerated.
func (d *drawing) scaleBar() { d.canvas.scaleBar(d.f.k, d.f.x0, d.s.Feet, d.words) }

// key explains the lines and hatchings that the drawing has, in rows.
func (d *drawing) key() {
	lines := func(class string, width float64, extra string) func(x, y float64) {
		return func(x, y float64) { d.line(class, x, y, x+swatch, y, width, extra) }
	}
	fill := func(class, pattern string) func(x, y float64) {
		return func(x, y float64) {
			d.element("rect", class, `x="`+px(x)+`" y="`+px(y-6)+`" width="`+px(swatch)+`" height="12" fill="url(#`+d.id+`-`+pattern+`)"`)
		}
	}
	entries := []keyEntry{{d.words.Ground, lines("sw-ground", 2, "")}}
	if len(d.s.Steps) > 0 {
		entries = append(entries, keyEntry{d.words.Finished, lines("sw-steps", 1.4, "")})
	}
	if len(d.s.Formation) > 0 {
		entries = append(entries, keyEntry{d.words.Formation, lines("sw-formation", 1, `stroke-dasharray="5 2.5"`)})
	}
	if d.has.cut {
		entries = append(entries, keyEntry{d.words.Cut, fill("sw-cut", "cut")})
	}
	if d.has.fill {
		entries = append(entries, keyEntry{d.words.Fill, fill("sw-fill", "fill")})
	}
	if d.has.gravel {
		entries = append(entries, keyEntry{d.words.Gravel, fill("sw-gravel", "gravel")})
	}
	for _, x := range d.s.Chain {
		if strings.HasPrefix(x.Text, Passed) {
			entries = append(entries, keyEntry{d.words.Passed, func(x, y float64) {
				d.p.set(label{text: strings.TrimSpace(Passed), x: x + swatch/2, y: y + 4, size: textSize, anchor: middle, class: "sw-passed"})
			}})
			break
		}
	}
	d.entries(entries)
}
