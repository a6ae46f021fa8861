package stair

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"
)

// FixedFlight is one flight of a layout of your own, given from the foot up.
type FixedFlight struct {
	Kind     Kind        // Box or Framed; "" is Box
	Risers   int         // at least 1
	Tread    unit.Length // depth of its treads; 0 for a flight of one riser, which has none
	Landing  unit.Length // depth of the landing behind it; 0 for the last flight, which arrives at the head
	Platform bool        // whether that landing is framed, as it can be between two framed flights
}

// Lay works out a layout of your own. The risers follow from the ends: each is
// (rise − wash·run)/n for n risers in all. The treads and landings must add up
// to the run within 1 mm (a fault says by how much they miss it and what would
// do); what is left within that goes into the last landing, or is shared by the
// treads when there is only one flight, so that the layout ends on the head
// exactly.
//
// Wash is the forward fall of treads and landings, a ratio from 0 to 0.2. At
// most 2000 risers, 10 km of run and of rise. The error is a [Faults] with
// paths such as flights[1].tread.
func Lay(foot, head Point, wash float64, flights []FixedFlight) (Layout, error) {
	return lay(foot, head, wash, false, flights)
}

// LayBehind is [Lay] where the first riser stands already: foot is the top of
// it, flights[0] counts it, and the climb is shared by the others. There must be
// two risers at least.
func LayBehind(foot, head Point, wash float64, flights []FixedFlight) (Layout, error) {
	return lay(foot, head, wash, true, flights)
}

func lay(foot, head Point, wash float64, stands bool, flights []FixedFlight) (Layout, error) {
	var faults Faults
	run, rise, climb := ends(foot, head, wash, &faults)
	if len(flights) == 0 {
		faults.Add("flights", "", "is empty", "give at least one flight")
	}
	n := 0
	for i, f := range flights {
		if i == maxRisers {
			faults.Addf("flights", "has %d flights; at most %d are planned at once", len(flights), maxRisers)
			break
		}
		f.check(fmt.Sprintf("flights[%d]", i), i == len(flights)-1, &faults)
		if f.Platform && (i == len(flights)-1 || f.Kind != Framed || flights[i+1].Kind != Framed) {
			faults.Add(fmt.Sprintf("flights[%d].platform", i), "", "does not lie between two framed flights", "leave it out: the landing bears on the ground")
		}
		if f.Risers > 0 && n <= maxRisers {
			n += min(f.Risers, maxRisers+1)
		}
	}
	if n > maxRisers {
		faults.Addf("flights", "hold more than %d risers; plan a longer path in parts", maxRisers)
	}
	if len(faults) > 0 {
		return Layout{}, faults.Err()
	}

	var sum float64
	for _, f := range flights {
		sum += float64(float64(f.Risers-1)*float64(f.Tread)) + float64(f.Landing)
	}
	if over := sum - run; math.Abs(over) > maxSum {
		missRun(flights, n, run, over, &faults)
		return Layout{}, faults.Err()
	} else if len(flights) == 1 && n == 1 {
		faults.Add("flights[0].risers", "1", "has no tread, and a run of "+text(unit.Length(run))+" to cover",
			"give it more risers, or a second flight behind a landing")
		return Layout{}, faults.Err()
	}
	if stands && n < 2 {
		faults.Add("flights[0].risers", fmt.Sprint(n), "leaves no riser above the one that stands", "give it more risers")
		return Layout{}, faults.Err()
	}

	plan := make([]planned, len(flights))
	for i, f := range flights {
		plan[i] = planned{risers: f.Risers, tread: float64(f.Tread), landing: float64(f.Landing), kind: kindIndex(f.Kind), deck: f.Platform}
		if f.Risers == 1 {
			plan[i].tread = 0
		}
	}
	return build(foot, head, wash, run, rise, climb, stands, plan), nil
}

func (f FixedFlight) check(field string, last bool, faults *Faults) {
	if kindIndex(f.Kind) < 0 {
		faults.Add(field+".kind", string(f.Kind), "is not a kind of flight", `write "box" or "framed"`)
	}
	if f.Risers < 1 || f.Risers > maxRisers {
		faults.Add(field+".risers", fmt.Sprint(f.Risers), "is not a number of risers", fmt.Sprintf("give 1 to %d", maxRisers))
	}
	length := func(name string, v unit.Length, need bool, why string) {
		switch x := float64(v); {
		case !finite(x) || x < 0 || x > maxReach:
			faults.Add(field+"."+name, fmt.Sprint(x), "is not a depth", "give a length above 0")
		case need && x < 0.01:
			faults.Add(field+"."+name, text(v), "is too little: "+why, "give at least 10 mm")
		}
	}
	length("tread", f.Tread, f.Risers > 1, "there are treads between the risers of a flight")
	length("landing", f.Landing, !last, "a landing parts two flights")
	if last && f.Landing > 0 {
		faults.Add(field+".landing", text(f.Landing), "lies behind the last flight, where the head is",
			"leave it out, or move the head down the path to where the last riser stands")
	}
}

// missRun says by how much a layout's parts miss the run, and what would do.
func missRun(flights []FixedFlight, n int, run, over float64, faults *Faults) {
	how := "short of"
	if over > 0 {
		how = "beyond"
	}
	problem := fmt.Sprintf("end %s %s the head", text(unit.Length(math.Abs(over))), how)
	var fix string
	if len(flights) == 1 {
		if n > 1 {
			fix = fmt.Sprintf("treads of %s fill the run of %s", text(unit.Length(run/float64(n-1))), text(unit.Length(run)))
		} else {
			fix = "one riser has no tread: give it more risers, or a second flight behind a landing"
		}
	} else {
		i := len(flights) - 2
		if want := float64(flights[i].Landing) - over; want >= 0.01 {
			fix = fmt.Sprintf("a landing of %s at flights[%d].landing fills the run of %s", text(unit.Length(want)), i, text(unit.Length(run)))
		} else {
			fix = fmt.Sprintf("take %s out of the treads", text(unit.Length(over)))
		}
	}
	faults.Add("flights", "", problem, fix)
}

// planned is a flight on its way into a layout: metres.
type planned struct {
	risers         int
	tread, landing float64
	kind           int  // onBox or onFrame
	deck           bool // the landing behind it is framed
}

// build puts a layout together from flights that are known to add up to the
// run within a millimetre, and puts the difference where [Lay] says.
func build(foot, head Point, wash, run, rise, climb float64, stands bool, plan []planned) Layout {
	n := 0
	for _, p := range plan {
		n += p.risers
	}
	l := Layout{
		Foot: foot, Head: head, Risers: n, FirstStands: stands,
		Run: unit.Length(run), Rise: unit.Length(rise), Wash: wash,
		Flights:  make([]Flight, 0, len(plan)),
		Landings: make([]Landing, 0, len(plan)-1),
		Steps:    make([]Step, 0, n),
	}
	l.Riser = unit.Length(climb / float64(l.rising()))
	last := len(plan) - 1
	if last == 0 {
		plan = []planned{{risers: n, tread: run / float64(n-1), kind: plan[0].kind}}
	}
	// Flights below the last landing are measured from the foot, the one above
	// it from the head.
	at, first := float64(foot.Station), 1
	for i, p := range plan {
		end := at + float64(float64(p.risers-1)*p.tread)
		if i == last {
			end = float64(head.Station)
		}
		l.Flights = append(l.Flights, Flight{
			Kind: kindNames[p.kind], First: first, Risers: p.risers, Tread: unit.Length(p.tread),
			Start: unit.Length(at), End: unit.Length(end),
		})
		for k := 0; k < p.risers; k++ {
			s := Step{Riser: first + k, Kind: kindNames[p.kind], Tread: unit.Length(p.tread)}
			x := at + float64(float64(k)*p.tread)
			if k == p.risers-1 {
				x, s.Tread = end, 0
			}
			s.Station = unit.Length(x)
			s.Level = l.Surface(s.Riser).At(s.Station)
			l.Steps = append(l.Steps, s)
		}
		first += p.risers
		if i == last {
			break
		}
		start := end
		at = end + p.landing
		if i == last-1 {
			q := plan[last]
			at = float64(head.Station) - float64(float64(q.risers-1)*q.tread)
		}
		kind := Box
		if p.deck {
			kind = Framed
		}
		behind := &l.Steps[len(l.Steps)-1]
		behind.Tread, behind.Landing = unit.Length(at-start), true
		l.Landings = append(l.Landings, Landing{
			Kind: kind, After: behind.Riser, Start: unit.Length(start), End: unit.Length(at),
			Depth: unit.Length(at - start), Level: behind.Level,
		})
	}
	l.Steps[n-1].Level = head.Level
	return l
}
