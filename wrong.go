package slopewright

import (
	"math"
	"strings"

	"github.com/slopewright/slopewright/internal/docjson"
	"github.com/slopewright/slopewright/internal/fault"
)

// alsoWrong adds to the faults of a document what else is wrong with what could be
// read of it, but for what may only follow from them: what could not be read gets one
// value after another in its place, and what is wrong with all of them does not hang
// on it.
func alsoWrong(p Plan, err error) error {
	found, wrong := err.(Faults)
	if !wrong {
		return err
	}
	unread := make([]string, len(found)) // fields with a value in place
	var m maker
	var more, last Faults
	for k := range docjson.StandIns {
		for i := range found {
			f := &found[i]
			field := f.Field
			if f.Kind == fault.Stray { // it may have been meant for another
				meant, _ := strings.CutSuffix(strings.TrimPrefix(f.Fix, "perhaps "), " was meant")
				field = field[:strings.LastIndexByte(field, '.')+1] + meant
			}
			if field != "units" && docjson.StandIn(&p, field, k) {
				unread[i] = field
			}
		}
		m = maker{}
		var also Faults
		m.readAll(p, &also)
		m.alsoSlip(&also)
		last = also
		if k == 0 {
			more = also
			continue
		}
		n := 0
		for _, f := range more {
			for _, g := range also {
				if f.Field == g.Field && f.Got == g.Got && f.Problem == g.Problem {
					more[n] = f
					n++
					break
				}
			}
		}
		more = more[:n]
	}
	n := len(found)
next:
	for i := range more {
		f := &more[i]
		for j := range n {
			if unread[j] != "" && inside(f.Field, unread[j]) || unread[j] == "" && follow(f, &found[j]) {
				continue next
			}
		}
		found = append(found, *f)
	}
	found = append(found, m.furtherOn(found, last)...)
	m.words.turnedFaults(found[:n])
	m.tell(found[n:])
	return found
}

// furtherOn is what is wrong further on, with the steps, the digging or the timber, of a
// plan that was read with faults, as far as these leave that what it is.
func (m *maker) furtherOn(found, also Faults) (more Faults) {
	all := append(append(Faults(nil), found...), also...)
	for i, stage := range [...]func() error{m.lay, m.dig, m.build} {
		for k := range all {
			if m.hangs(i, all[k].Field) {
				return nil
			}
		}
		err := stage()
		if err == nil {
			continue
		}
		wrong, _ := faultsOf(err)
	next:
		for j := range wrong {
			f := &wrong[j]
			for k := range all {
				g := &all[k]
				if part := topOf(f.Field); f.Field == g.Field && f.Problem == g.Problem || (part == "prices" || part == "crew") && part == topOf(g.Field) {
					continue next
				}
			}
			more = append(more, *f)
		}
		return more
	}
	return nil
}

// hangs is whether the steps, the digging or the timber, 0 to 2, hang on a field.
func (m *maker) hangs(stage int, field string) bool {
	own := len(m.plan.Steps.Fixed) > 0
	switch topOf(field) {
	case "title", "notes", "quote":
		return false
	case "crew", "prices", "stock":
		// Which steps are chosen may, whether any fit does not.
		by := m.plan.Steps.Prefer
		return stage == 2 && topOf(field) == "stock" && !strings.HasSuffix(field, "].price") || stage > 0 && !own && (by == "cost" || by == "hours")
	case "cut":
		return stage == 2
	case "path": // bends that will not do are left out, and without them there is more room
		return stage > 0 || m.bends != nil || !strings.HasPrefix(field, "path.bends[")
	case "water":
		return stage > 0
	case "soil", "build":
		return stage > 0 || !own
	case "steps":
		return !own || strings.HasPrefix(field, "steps.fixed") || inside(field, "steps.wash")
	}
	return true
}

// tell gives faults the plan's measures, and a length that is quoted as it was typed.
func (m *maker) tell(err error) error {
	all, _ := err.(Faults)
	for i := range all {
		f := &all[i]
		if l, ok := docjson.At(&m.plan, f.Field).(*Length); ok && l != nil && l.Text != "" {
			got, _, _ := strings.Cut(f.Got, " (")
			if x, err := ParseLength(got); err == nil && math.Abs(float64(x.Length-l.Length)) < 1e-3 {
				f.Got = l.Text
			}
		}
	}
	return m.words.ownFaults(err)
}

// faultsOf are the faults that an error is or wraps. errors.As is 3 kB of the browser's
// program.
func faultsOf(err error) (Faults, bool) {
	for {
		if all, ok := err.(Faults); ok {
			return all, true
		}
		u, ok := err.(interface{ Unwrap() error })
		if !ok {
			return nil, false
		}
		err = u.Unwrap()
	}
}

// follow is whether a fault may follow from another one, which was there when the
// document was read, where nothing can stand in for its field. A field that there is
// none of, or that is not used, changes nothing else.
func follow(f, from *Fault) bool {
	if inside(f.Field, from.Field) || inside(from.Field, f.Field) {
		return true
	}
	if from.Kind == fault.Stray || strings.HasPrefix(from.Problem, docjson.NotUsed) {
		return false
	}
	part, other := topOf(f.Field), topOf(from.Field)
	switch other {
	case "ground":
		return part == other || part == "path" || part == "built"
	case "path":
		return part == other || part == "built" || part == "steps"
	case "steps":
		return part == other || part == "build"
	case "stock":
		return part == other || part == "build" || part == "cut"
	}
	return part == other
}

// inside is whether a field is in another one, or is it.
func inside(field, other string) bool {
	rest, ok := strings.CutPrefix(field, other)
	return ok && (rest == "" || rest[0] == '.' || rest[0] == '[' || other == "")
}

// topOf is the part of the plan that a field is in.
func topOf(field string) string {
	field, _, _ = strings.Cut(field, ".")
	field, _, _ = strings.Cut(field, "[")
	return field
}
