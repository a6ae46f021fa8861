package draw

import (
	"math"
	"strconv"
)

// View is the path in the hill, seen from in front and above, foot at the left.
// It is isometric: lengths along the path, across it and upright are to one
// scale. The ground on the near side is taken away along the edge of the path,
// so that what is dug and filled is seen. Lengths are metres.
type View struct {
	Title, Desc string
	Course      Course
	Terrain     Terrain
	Steps       []Step
	Formation   []Piece
	Words       Words
	// Beside is how much ground is shown beside the path; 0 is the path's own
	// width.
	Beside float64
}

// viewDrawing is a view being made.
type viewDrawing struct {
	canvas
	v       *View
	words   Words
	k       float64
	x0, y0  float64
	horizon []point2 // the far edge of the path, px, ascending in x
}

type point2 struct{ x, y float64 }

// cos30 is that of the isometric axes.
const cos30 = 0.8660254037844386

// space maps a place and a level to the paper, in metres, y downwards. Uphill
// goes to the right and up, to the right of the path to the right and down.
func space(s Spot, level float64) point2 {
	return point2{(s.X + s.Y) * cos30, -(s.X-s.Y)/2 - level}
}

func (d *viewDrawing) at(station, offset, level float64) (x, y float64) {
	p := space(d.v.Course.At(station, offset), level)
	return d.x0 + float64(p.x*d.k), d.y0 + float64(p.y*d.k)
}

// SVG draws the view to fit a width in px, or to the look's scale; see
// [Section.SVG].
func (v View) SVG(width float64, look Look) string {
	d := viewDrawing{v: &v, words: v.Words.filled()}
	width = bounded(width)
	pl := Plan{Terrain: v.Terrain, Steps: v.Steps, Formation: v.Formation, Course: v.Course}
	if !pl.drawable() || !(v.Beside >= 0 && v.Beside <= 100) || v.Terrain.Width <= 0 {
		d.canvas = newCanvas("sw-view", v.Title, v.Desc, width, look)
		d.title()
		d.note(label{text: d.words.Nothing, class: "sw-note"})
		d.bottom += margin
		return d.document()
	}
	if v.Beside == 0 {
		v.Beside = v.Terrain.Width
	}
	d.k = 1
	min, max := d.extent()
	if look = look.fitted(max.x - min.x); look.scaled() {
		width = look.width(max.x-min.x, 48)
	}
	d.canvas = newCanvas("sw-view", v.Title, v.Desc, width, look)
	d.title()
	d.k = (width - 48) / math.Max(max.x-min.x, 1)
	if tall := math.Min(math.Max(1.1*width, 420), 1300); d.k*(max.y-min.y) > tall {
		d.k = tall / (max.y - min.y)
	}
	if look.scaled() {
		d.k = look.pxPerMetre()
	}
	d.x0 = (width-float64(d.k*(max.x-min.x)))/2 - float64(min.x*d.k)
	d.y0 = d.bottom + 12 - float64(min.y*d.k)
	d.bottom = d.y0 + float64(max.y*d.k) + 12
	d.draw()
	return d.document()
}

// ends are the stations the view runs from and to.
func (d *viewDrawing) ends() (from, to float64) {
	g, s := d.v.Terrain.Ground, d.v.Steps
	return math.Min(g[0].Station, s[0].Station), math.Max(g[len(g)-1].Station, s[len(s)-1].Station)
}

// below is the level that the cut-away hill is drawn down to: under everything,
// along the line from end to end.
func (d *viewDrawing) below() func(x float64) float64 {
	from, to := d.ends()
	t := d.v.Terrain
	a, b := t.levelAt(from, t.Width/2), t.levelAt(to, t.Width/2)
	slope := (b - a) / math.Max(to-from, 1e-9)
	line := func(x float64) float64 { return a + float64(slope*(x-from)) }
	deep := 0.0
	look := func(x, level float64) { deep = math.Max(deep, line(x)-level) }
	for _, g := range t.Ground {
		look(g.Station, t.levelAt(g.Station, t.Width/2))
	}
	for _, p := range d.v.Formation {
		look(p.From.Station, p.From.Level)
		look(p.To.Station, p.To.Level)
	}
	deep += 0.15 + float64(0.02*(to-from))
	return func(x float64) float64 { return line(x) - deep }
}

func (d *viewDrawing) extent() (min, max point2) {
	min, max = point2{math.Inf(1), math.Inf(1)}, point2{math.Inf(-1), math.Inf(-1)}
	add := func(station, offset, level float64) {
		p := space(d.v.Course.At(station, offset), level)
		min = point2{math.Min(min.x, p.x), math.Min(min.y, p.y)}
		max = point2{math.Max(max.x, p.x), math.Max(max.y, p.y)}
	}
	t := d.v.Terrain
	from, to := d.ends()
	low, far := d.below(), -t.Width/2-d.v.Beside
	for _, x := range d.grid(from, to) {
		add(x, far, t.levelAt(x, far))
		add(x, t.Width/2, t.levelAt(x, t.Width/2))
		add(x, t.Width/2, low(x))
	}
	add(from, far, low(from))
	for _, s := range d.v.Steps {
		for _, o := range []float64{-t.Width / 2, t.Width / 2} {
			add(s.Station, o, s.Level)
			add(s.TreadEnd, o, s.EndLevel)
		}
	}
	return min, max
}

// grid is the stations of the ground and those of the bends.
func (d *viewDrawing) grid(from, to float64) []float64 {
	xs := d.v.Course.stations(from, to)
	for _, g := range d.v.Terrain.Ground {
		if g.Station > from && g.Station < to {
			xs = insert(xs, g.Station)
		}
	}
	return xs
}

// surface is the finished path from the ground before the foot to that behind
// the head, on one side, as station and level.
func (d *viewDrawing) surface(offset float64) []XY {
	t := d.v.Terrain
	var out []XY
	from, to := d.ends()
	s := d.v.Steps
	for _, x := range d.grid(from, to) {
		if x < s[0].Station {
			out = append(out, XY{x, t.levelAt(x, offset)})
		}
	}
	out = append(out, XY{s[0].Station, t.levelAt(s[0].Station, offset)})
	for _, x := range s {
		out = append(out, XY{x.Station, x.Level}, XY{x.TreadEnd, x.EndLevel})
	}
	last := s[len(s)-1]
	for _, x := range d.grid(from, to) {
		if x > last.Station {
			out = append(out, XY{x, t.levelAt(x, offset)})
		}
	}
	return out
}

func (d *viewDrawing) draw() {
	t, steps := d.v.Terrain, d.v.Steps
	half := t.Width / 2
	from, to := d.ends()
	for _, p := range d.surface(-half) {
		x, y := d.at(p.Station, -half, p.Level)
		if n := len(d.horizon); n > 0 && x <= d.horizon[n-1].x+1e-9 {
			d.horizon[n-1].y = math.Min(d.horizon[n-1].y, y)
			continue
		}
		d.horizon = append(d.horizon, point2{x, y})
	}
	d.far(from, to)

	// The path from the head down, nearer over farther.
	for i := len(steps) - 1; i >= 0; i-- {
		s := steps[i]
		if s.TreadEnd > s.Station {
			class := "sw-tread"
			if s.Landing {
				class = "sw-landing"
			}
			fill := "url(#" + d.id + "-gravel)"
			if s.Framed {
				fill = "none"
			}
			d.area(class, `fill="`+fill+`" stroke="currentColor" stroke-width="0.6"`, d.strip(s.Station, s.TreadEnd, s.Level, s.EndLevel))
		}
		low := t.levelAt(s.Station, 0)
		if i > 0 {
			low = steps[i-1].EndLevel
		} else if low > s.Level {
			low = s.Level
		}
		var face []point2
		for _, c := range [][2]float64{{-half, s.Level}, {half, s.Level}, {half, low}, {-half, low}} {
			x, y := d.at(s.Station, c[0], c[1])
			face = append(face, point2{x, y})
		}
		d.area("sw-riser-face", `fill="currentColor" fill-opacity="0.32" stroke="currentColor" stroke-width="1"`, face)
	}
	d.near(from, to, half)
	d.front(from, half)
	d.numbers(half)
	d.canvas.note(label{text: d.words.Isometric, class: "sw-note"})
	d.entries(d.viewKey())
}

func (d *viewDrawing) viewKey() []keyEntry {
	e := []keyEntry{
		{d.words.GroundBefore, func(x, y float64) { d.line("sw-ground", x, y, x+swatch, y, 1.6, `stroke-dasharray="6 3"`) }},
	}
	if len(d.v.Formation) > 0 {
		e = append(e, keyEntry{d.words.Gravel, func(x, y float64) {
			d.element("rect", "sw-gravel", `x="`+px(x)+`" y="`+px(y-6)+`" width="`+px(swatch)+`" height="12" fill="url(#`+d.id+`-gravel)" stroke="currentColor" stroke-width="0.5"`)
		}}, keyEntry{d.words.Earth, func(x, y float64) {
			d.element("rect", "sw-hill", `x="`+px(x)+`" y="`+px(y-6)+`" width="`+px(swatch)+`" height="12" fill="url(#`+d.id+`-fill)" stroke="currentColor" stroke-width="0.5"`)
		}})
	}
	return e
}

// strip is a tread seen from above.
func (d *viewDrawing) strip(from, to, a, b float64) []point2 {
	half := d.v.Terrain.Width / 2
	var left, right []point2
	for _, s := range d.v.Course.stations(from, to) {
		level := between(XY{from, a}, XY{to, b}, s)
		x, y := d.at(s, -half, level)
		left = append(left, point2{x, y})
		x, y = d.at(s, half, level)
		right = append(right, point2{x, y})
	}
	for i := len(right) - 1; i >= 0; i-- {
		left = append(left, right[i])
	}
	return left
}

func (d *viewDrawing) area(class, look string, points []point2) {
	var p path
	for i, v := range points {
		if i == 0 {
			p.move(v.x, v.y)
		} else {
			p.to(v.x, v.y)
		}
	}
	p.close()
	d.element("path", class, look+` d="`+p.String()+`"`)
	for i, v := range points {
		w := points[(i+1)%len(points)]
		d.p.line(v.x, v.y, w.x, w.y)
	}
}

// hidden says whether the path stands before a place on the paper.
func (d *viewDrawing) hidden(x, y float64) bool {
	h := d.horizon
	if len(h) == 0 || x < h[0].x || x > h[len(h)-1].x {
		return false
	}
	i := 1
	for i < len(h)-1 && h[i].x < x {
		i++
	}
	a, b := h[i-1], h[i]
	f := 0.0
	if b.x > a.x {
		f = (x - a.x) / (b.x - a.x)
	}
	return y > a.y+float64(f*(b.y-a.y))+0.25
}

// behind adds the parts of a line that the path does not hide.
func (d *viewDrawing) behind(p *path, a, b point2) {
	n := int(math.Min(math.Ceil(math.Hypot(b.x-a.x, b.y-a.y)/2), 400))
	pen := false
	for i := 0; i <= n; i++ {
		f := float64(i) / math.Max(float64(n), 1)
		x, y := a.x+float64(f*(b.x-a.x)), a.y+float64(f*(b.y-a.y))
		hidden := d.hidden(x, y)
		switch {
		case hidden:
			pen = false
		case !pen:
			p.move(x, y)
			pen = true
		case i == n:
			p.to(x, y)
		default:
			// Only the ends of what is seen are needed.
			g := float64(i+1) / float64(n)
			if d.hidden(a.x+float64(g*(b.x-a.x)), a.y+float64(g*(b.y-a.y))) {
				p.to(x, y)
			}
		}
	}
}

// far draws the ground beyond the path, its top edge of cut, and the side of
// the cut down to the path.
func (d *viewDrawing) far(from, to float64) {
	t := d.v.Terrain
	edge := func(s float64) float64 {
		for _, p := range d.v.Formation {
			if s >= p.From.Station && s <= p.To.Station {
				if v := t.daylight(s, p.at(s), -1); v.Cut {
					return v.Offset
				}
			}
		}
		return -t.Width / 2
	}
	outer := -t.Width/2 - d.v.Beside
	point := func(s, offset float64) point2 {
		x, y := d.at(s, offset, t.levelAt(s, offset))
		return point2{x, y}
	}
	var mesh, brink, slope path
	step := interval(d.k, 26, false)
	if n := (to - from) / step; n > 300 {
		step = (to - from) / 300
	}
	xs := d.grid(from, to)
	for s := math.Ceil(from/step) * step; s <= to; s += step {
		xs = insert(xs, s)
		if e := edge(s); e > outer {
			d.behind(&mesh, point(s, e), point(s, outer))
		}
	}
	lanes := 4
	for i := 0; i <= lanes; i++ {
		o := -t.Width/2 - d.v.Beside*float64(i)/float64(lanes)
		for j := 1; j < len(xs); j++ {
			if edge(xs[j-1]) >= o && edge(xs[j]) >= o && i > 0 {
				d.behind(&mesh, point(xs[j-1], o), point(xs[j], o))
			}
		}
	}
	// The brink, and strokes down the cut's side.
	for _, s := range d.v.Steps {
		if !(s.TreadEnd > s.Station) {
			continue
		}
		n := int(math.Min(math.Ceil((s.TreadEnd-s.Station)*d.k/6), 200))
		for j := 0; j < n; j++ {
			a := s.Station + (s.TreadEnd-s.Station)*float64(j)/float64(n)
			b := s.Station + (s.TreadEnd-s.Station)*float64(j+1)/float64(n)
			m := (a + b) / 2
			e := edge(m)
			if e <= outer {
				continue
			}
			d.behind(&brink, point(a, edge(a+1e-9)), point(b, edge(b-1e-9)))
			x, y := d.at(m, -t.Width/2, between(XY{s.Station, s.Level}, XY{s.TreadEnd, s.EndLevel}, m))
			if top := point(m, e); top.y < y && e < -t.Width/2-1e-9 {
				part := 1.0
				if j%2 == 1 {
					part = 0.5
				}
				slope.move(top.x, top.y).to(top.x+float64((x-top.x)*part), top.y+float64((y-top.y)*part))
			}
		}
	}
	d.stroke("sw-mesh", &mesh, 0.5, `stroke-opacity="0.55"`)
	d.stroke("sw-batter", &slope, 0.5, "")
	d.stroke("sw-top-of-cut", &brink, 1, "")
}

// near draws the hill cut away along the near edge of the path: earth below
// formation, gravel between it and the treads, the ground as it was.
func (d *viewDrawing) near(from, to, half float64) {
	t := d.v.Terrain
	low := d.below()
	pt := func(s, level float64) point2 {
		x, y := d.at(s, half, level)
		return point2{x, y}
	}
	// Earth: under the ground outside the path, under formation in it.
	var top []point2
	steps := d.v.Steps
	first, last := steps[0].Station, steps[len(steps)-1].Station
	for _, x := range d.grid(from, to) {
		if x < first {
			top = append(top, pt(x, t.levelAt(x, half)))
		}
	}
	top = append(top, pt(first, t.levelAt(first, half)))
	end := first
	for _, p := range d.v.Formation {
		// A framed flight leaves the ground between.
		for _, x := range d.grid(from, to) {
			if x > end+1e-9 && x < p.From.Station-1e-9 {
				top = append(top, pt(x, t.levelAt(x, half)))
			}
		}
		for _, x := range d.v.Course.stations(p.From.Station, p.To.Station) {
			top = append(top, pt(x, p.at(x)))
		}
		end = p.To.Station
	}
	for _, x := range d.grid(from, to) {
		if x > end+1e-9 && x < last {
			top = append(top, pt(x, t.levelAt(x, half)))
		}
	}
	top = append(top, pt(last, t.levelAt(last, half)))
	for _, x := range d.grid(from, to) {
		if x > last {
			top = append(top, pt(x, t.levelAt(x, half)))
		}
	}
	hill := append([]point2(nil), top...)
	xs := d.grid(from, to)
	for i := len(xs) - 1; i >= 0; i-- {
		hill = append(hill, pt(xs[i], low(xs[i])))
	}
	d.area("sw-hill", `fill="url(#`+d.id+`-fill)" stroke="currentColor" stroke-width="0.8"`, hill)
	// Gravel, box by box.
	for _, s := range steps {
		for _, p := range d.v.Formation {
			if s.Framed {
				continue
			}
			a, b := math.Max(s.Station, p.From.Station), math.Min(s.TreadEnd, p.To.Station)
			if b-a < 1e-9 {
				continue
			}
			var box []point2
			cs := d.v.Course.stations(a, b)
			for _, x := range cs {
				box = append(box, pt(x, between(XY{s.Station, s.Level}, XY{s.TreadEnd, s.EndLevel}, x)))
			}
			for i := len(cs) - 1; i >= 0; i-- {
				box = append(box, pt(cs[i], p.at(cs[i])))
			}
			d.area("sw-gravel", `fill="url(#`+d.id+`-gravel)" stroke="currentColor" stroke-width="0.8"`, box)
		}
	}
	var ground path
	var before point2
	for i, x := range xs {
		v := pt(x, t.levelAt(x, half))
		if i == 0 {
			ground.move(v.x, v.y)
		} else {
			ground.to(v.x, v.y)
			d.p.line(before.x, before.y, v.x, v.y)
		}
		before = v
	}
	d.stroke("sw-ground", &ground, 1.6, `stroke-dasharray="6 3"`)
}

// front is the hill cut off across the path, below where it begins.
func (d *viewDrawing) front(from, half float64) {
	t, low, outer := d.v.Terrain, d.below()(from), -half-d.v.Beside
	var face []point2
	for _, c := range [][2]float64{{outer, t.levelAt(from, outer)}, {half, t.levelAt(from, half)}, {half, low}, {outer, low}} {
		x, y := d.at(from, c[0], c[1])
		face = append(face, point2{x, y})
	}
	d.area("sw-hill-front", `fill="none" stroke="currentColor" stroke-width="0.8"`, face)
	// Strokes of earth under the ground line.
	var p path
	for i := 1; i < 16; i++ {
		f := float64(i) / 16
		x, y := face[0].x+float64(f*(face[1].x-face[0].x)), face[0].y+float64(f*(face[1].y-face[0].y))
		if i%4 != 0 {
			p.move(x, y).to(x+4, y+9)
		}
	}
	d.stroke("sw-earth", &p, 0.7, "")
}

// numbers writes riser numbers beyond the far edge: the ends, every fifth, then
// those that find room; and names the ends of the path.
func (d *viewDrawing) numbers(half float64) {
	steps := d.v.Steps
	low := d.below()
	put := func(i int) {
		s := steps[i]
		x, y := d.at(s.Station, half, low(s.Station))
		l := label{text: strconv.Itoa(s.Riser), x: x + 4, y: y + smallSize + 3, size: smallSize, anchor: start, class: "sw-riser-text"}
		if d.p.place(l) {
			tx, ty := d.at(s.Station, half, s.Level)
			d.line("sw-leader", tx, ty, x, y+3, 0.4, `stroke-dasharray="1 3"`)
			if l.y+6 > d.bottom {
				d.bottom = l.y + 6
			}
		}
	}
	n := len(steps)
	put(0)
	if n > 1 {
		put(n - 1)
	}
	for i := range steps {
		if steps[i].Riser%5 == 0 && i > 0 && i < n-1 {
			put(i)
		}
	}
	for i := range steps {
		if steps[i].Riser%5 != 0 && i > 0 && i < n-1 {
			put(i)
		}
	}
}
