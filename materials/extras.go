package materials

import (
	"fmt"

	"github.com/martinlindhe/unit"
)

// Item ids of edging and drains. Price lists use the same words.
const (
	ItemEdging       = "edging"
	ItemEdgingStake  = "edging-stake"
	ItemDrainPipe    = "drain-pipe"
	ItemDrainStone   = "drain-stone"
	ItemDrainFitting = "drain-fitting"
)

// Edging is strip along a path's sides. The zero Edging is none.
type Edging struct {
	// Length of each run; a path edged on both sides has two. At most 1000.
	Runs []unit.Length
	// Piece is the length one strip is sold in, 0 where it is sold by length.
	// StakeEvery is the most between stakes, 0 is none.
	Piece, StakeEvery unit.Length
	Waste             float64
	// Words writes lengths in notes; without it they are written in metres.
	Words func(unit.Length) string
}

// Items is what the edging takes: each run from whole and cut strips, with a
// stake at both ends of every run and between.
//
// The error is a [Faults].
func (e Edging) Items() ([]Item, error) {
	var f Faults
	if len(e.Runs) > 1000 {
		f.Add("runs", fmt.Sprint(len(e.Runs)), "is more than 1000 runs", "join runs")
		return nil, f
	}
	c := below("", &f)
	for i, r := range e.Runs {
		c.length(fmt.Sprintf("runs[%d]", i), r, 0, 10*unit.Kilometer)
	}
	c.length("piece", e.Piece, 0, 100*unit.Meter)
	c.length("stake_every", e.StakeEvery, 0, 100*unit.Meter)
	c.number("waste", e.Waste, 0, 1)
	for _, l := range []struct {
		field string
		l     unit.Length
	}{{"piece", e.Piece}, {"stake_every", e.StakeEvery}} {
		if l.l > 0 && l.l < 10*unit.Millimeter {
			f.Add(l.field, show(l.l), "is less than 10 mm", "give 0, or 10 mm or more")
		}
	}
	if len(f) > 0 {
		return nil, f
	}
	length, stakes := 0.0, 0
	for _, r := range e.Runs {
		if r == 0 {
			continue
		}
		length += r.Meters()
		if e.StakeEvery > 0 {
			stakes += spaces(r.Meters(), e.StakeEvery.Meters()) + 1
		}
	}
	if length == 0 {
		return nil, nil
	}
	need := Quantity{Length: unit.Length(length)}
	order := Quantity{Length: unit.Length(length * (1 + e.Waste))}
	note := "along the path's edges"
	if e.Piece > 0 {
		need.Count = spaces(need.Length.Meters(), e.Piece.Meters())
		order.Count = spaces(order.Length.Meters(), e.Piece.Meters())
		note += "; count is strips of " + inWords(e.Words, e.Piece)
	}
	items := []Item{{ID: ItemEdging, Need: need, Waste: e.Waste, Order: order, Note: note}}
	if stakes > 0 {
		items = append(items, Item{ID: ItemEdgingStake, Need: Quantity{Count: stakes}, Waste: e.Waste, Order: Quantity{Count: more(stakes, e.Waste)}})
	}
	return items, nil
}

// Drain is a perforated pipe in stone, wrapped in fabric. [DefaultDrain] gives
// one to start from.
type Drain struct {
	Length unit.Length
	// Pipe is the pipe's outside diameter. Under and Over are the stone below
	// and above it, Width the trench's.
	Pipe, Under, Over, Width unit.Length
	Stone                    Aggregate
	// Lap of the fabric over the top; NoFabric leaves it out.
	Lap      unit.Length
	NoFabric bool
	// Fall is the pipe's whole fall, and Outlets how many ends come to daylight.
	Fall                    unit.Length
	Outlets                 int
	WasteStone, WasteFabric float64
}

// DefaultDrain is a drain to start from: a 4 in pipe, 12 in of trench.
//
// Sources: pipe 4 in, from memory; 2 in of stone under and 6 in over it: IRC
// R405.1; a fall of 0.15 ft in 100 ft at least: UFC 3-270-04, 12.6. Trench of
// 12 in, laps, wastes and the wall of 1/4 in: common practice.
func DefaultDrain(length, fall unit.Length) Drain {
	stone, _ := AggregateByID("drain-rock")
	return Drain{Length: length, Fall: fall, Pipe: 4.5 * inch, Under: 2 * inch, Over: 6 * inch, Width: 12 * inch, Stone: stone,
		Lap: 6 * inch, Outlets: 1, WasteStone: 0.10, WasteFabric: 0.10}
}

// Items is what the drain takes, and the check of its fall. Stone is the
// trench less the pipe.
//
// The error is a [Faults].
func (d Drain) Items() ([]Item, []Check, error) {
	var f Faults
	c := below("", &f)
	c.length("length", d.Length, 10*unit.Millimeter, 10*unit.Kilometer)
	c.length("pipe", d.Pipe, 10*unit.Millimeter, unit.Meter)
	c.length("under", d.Under, 0, 2*unit.Meter)
	c.length("over", d.Over, 0, 5*unit.Meter)
	c.length("width", d.Width, 10*unit.Millimeter, 5*unit.Meter)
	c.length("lap", d.Lap, 0, 5*unit.Meter)
	c.length("fall", d.Fall, 0, unit.Kilometer)
	c.count("outlets", d.Outlets, 0, 1000)
	c.number("waste_stone", d.WasteStone, 0, 1)
	c.number("waste_fabric", d.WasteFabric, 0, 1)
	d.Stone.check("stone", &f)
	if len(f) == 0 && d.Width < d.Pipe {
		f.Add("width", show(d.Width), "is less than the pipe's "+show(d.Pipe), "give a wider trench")
	}
	if len(f) > 0 {
		return nil, nil, f
	}
	l, pipe, width := d.Length.Meters(), d.Pipe.Meters(), d.Width.Meters()
	high := (d.Under + d.Pipe + d.Over).Meters()
	v := l * (float64(width*high) - float64(pi/4*pipe*pipe))
	need := Quantity{Volume: unit.Volume(v)}
	need.Mass = d.Stone.Compacted.Of(need.Volume)
	order := Quantity{Volume: unit.Volume(v * (1 + d.WasteStone) * d.Stone.Factor())}
	order.Mass = d.Stone.Loose.Of(order.Volume)
	items := []Item{
		{ID: ItemDrainPipe, Need: Quantity{Length: d.Length}, Order: Quantity{Length: d.Length}, Note: "perforated, holes down"},
		{ID: ItemDrainStone, Need: need, Waste: d.WasteStone, Order: order,
			Note: fmt.Sprintf("%s: need is in place, order is loose, %.3f times that and the waste", d.Stone.Name, d.Stone.Factor())},
	}
	if !d.NoFabric {
		area := l * (2*(width+high) + d.Lap.Meters())
		items = append(items, Item{ID: ItemFabric, Need: Quantity{Area: unit.Area(area)}, Waste: d.WasteFabric, Order: Quantity{Area: unit.Area(area * (1 + d.WasteFabric))}, Note: "around the drain's stone, lap in the need"})
	}
	if d.Outlets > 0 {
		items = append(items, Item{ID: ItemDrainFitting, Need: Quantity{Count: d.Outlets}, Order: Quantity{Count: d.Outlets}, Note: "outlets with a screen"})
	}
	fall := Check{Name: "drain-fall", Limit: Amount{Of: OfRatio, Ratio: 0.0015}, Actual: Amount{Of: OfRatio, Ratio: d.Fall.Meters() / l}, AtLeast: true,
		Says: "the pipe's fall over its length", Source: "UFC 3-270-04, 12.6: 0.15 ft in 100 ft"}.check()
	return items, []Check{fall}, nil
}
