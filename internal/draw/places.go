package draw

import (
	"math"
	"sort"
)

// PlanPlace is where earth goes to, or comes from. It is seldom on the paper:
// its way is drawn shortened, and it is told how far it is.
type PlanPlace struct {
	// At is the station where one turns off to it.
	At float64
	// Breadth is that of a round heap, drawn to scale; 0 draws none.
	Breadth float64
	// Fetch says that earth comes from there.
	Fetch bool
	Says  string
}

// places draws the places in a row under the plan, each below where one turns
// off to it as far as there is room. What finds none is told among the notes.
func (d *planDrawing) places() (drawn bool) {
	all := append([]PlanPlace(nil), d.pl.Places...)
	sort.SliceStable(all, func(i, j int) bool { return all[i].At < all[j].At })
	const gap = 10.0
	bottom, free := d.bottom, margin
	for n, p := range all {
		r := math.Max(p.Breadth/2*d.k, 3)
		text := clean(p.Says, 300)
		sx, sy := d.at(p.At, d.pl.Terrain.Width/2)
		// Leave the same for each of those to come.
		room := (d.width-margin-free)/float64(len(all)-n) - gap
		wide := math.Min(room-2*r-gap, 230)
		if p.Breadth > 0 && r < 5 || wide < 90 {
			d.pl.Notes = append(d.pl.Notes, text)
			continue
		}
		x := math.Max(free, math.Min(sx-r, free+room-2*r-gap-wide))
		// Under all that is drawn there, lines of the set-back too.
		top := d.p.lowest(x, x+2*r+gap+wide, d.y0) + 26
		cx, cy := x+r, top+r
		if p.Breadth > 0 {
			d.heap(cx, cy, r)
		}
		d.way(sx, sy, cx, top-2, p.Fetch)
		lines := wrap(text, wide, smallSize)
		for i, line := range lines {
			d.p.set(label{text: line, x: x + float64(2*r) + gap, y: top + smallSize + float64(float64(i)*(smallSize+4)), size: smallSize, anchor: start, class: "sw-place-text"})
		}
		bottom = math.Max(bottom, math.Max(top+float64(2*r), top+float64(float64(len(lines))*(smallSize+4))))
		free = x + 2*r + gap + wide + gap
		drawn = drawn || p.Breadth > 0
	}
	if bottom > d.bottom {
		d.bottom = bottom + 8
	}
	return drawn
}

// lowest is how far down the lines between two places reach, from y on.
func (p *placer) lowest(x0, x1, y float64) float64 {
	for i := p.column(x0); i <= p.column(x1); i++ {
		for _, s := range p.columns[i] {
			if s.x0 > s.x1 {
				s = segment{s.x1, s.y1, s.x0, s.y0}
			}
			for _, x := range []float64{s.x0, x0, x1, s.x1} {
				at := math.Max(s.y0, s.y1)
				if s.x1 > s.x0 {
					at = s.y0 + (s.y1-s.y0)*(x-s.x0)/(s.x1-s.x0)
				}
				if x >= x0 && x <= x1 && x >= s.x0 && x <= s.x1 && at > y {
					y = at
				}
			}
		}
	}
	return y
}

// heap is a round heap from above, with strokes down its slope.
func (d *planDrawing) heap(x, y, r float64) {
	d.element("circle", "sw-heap", `cx="`+px(x)+`" cy="`+px(y)+`" r="`+px(r)+`" fill="none" stroke="currentColor" stroke-width="1"`)
	var p path
	n := int(math.Max(8, math.Min(2*math.Pi*r/7, 60)) / 2)
	for i := range 2 * n {
		a := math.Pi * float64(i) / float64(n)
		from, to := 0.25, 0.9
		if i%2 == 1 {
			from, to = 0.5, 0.75
		}
		p.move(x+float64(from*r*math.Cos(a)), y+float64(from*r*math.Sin(a))).to(x+float64(to*r*math.Cos(a)), y+float64(to*r*math.Sin(a)))
	}
	d.stroke("sw-heap-slope", &p, 0.5, "")
}

// way is the way to a place: an arrow, with the break of what is shortened
// halfway.
func (d *planDrawing) way(x0, y0, x1, y1 float64, back bool) {
	long := math.Hypot(x1-x0, y1-y0)
	if long < 1 {
		return
	}
	tx, ty := (x1-x0)/long, (y1-y0)/long
	at := func(along, aside float64) (x, y float64) {
		return x0 + float64(tx*along) - float64(ty*aside), y0 + float64(ty*along) + float64(tx*aside)
	}
	var p path
	p.move(x0, y0)
	// The break stands past the work, near the place.
	m := long - math.Min(14, long/3)
	for _, v := range [][2]float64{{-4, 0}, {-2, 4}, {2, -4}, {4, 0}} {
		x, y := at(m+v[0], v[1])
		p.to(x, y)
	}
	p.to(x1, y1)
	tip, dir := long, -1.0
	if back {
		tip, dir = 0, 1
	}
	ax, ay := at(tip+float64(6*dir), 3)
	bx, by := at(tip, 0)
	cx, cy := at(tip+float64(6*dir), -3)
	p.move(ax, ay).to(bx, by).to(cx, cy)
	d.stroke("sw-way", &p, 0.9, "")
	d.p.line(x0, y0, x1, y1)
}
