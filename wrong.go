package slopewright

import (
	"strings"

	"github.com/slopewright/slopewright/internal/docjson"
)

// alsoWrong adds to the faults of a document what else is wrong with what could be
// read of it, but for what may only follow from them.
func alsoWrong(p Plan, err error) error {
	found, wrong := err.(Faults)
	if !wrong {
		return err
	}
	if p.Path.Width.Length <= 0 {
		p.Path.Width = Metres(1) // whatever it is meant to be
	}
	var m maker
	var more Faults
	m.readAll(p, &more)
	n := len(found)
next:
	for i := range more {
		for j := range n {
			if follow(&more[i], &found[j]) {
				continue next
			}
		}
		found = append(found, more[i])
	}
	return m.words.turnedFaults(found)
}

// follow is whether a fault may follow from another one, which was there when the
// document was read. A name that is not known is wrong by itself; a field that
// there is none of, or no such choice, changes nothing else but of the ground.
func follow(f, from *Fault) bool {
	if inside(f.Field, from.Field) || inside(from.Field, f.Field) {
		return true
	}
	other := topOf(from.Field)
	if other != "ground" && (strings.HasPrefix(from.Problem, docjson.NoField) || from.Problem == docjson.NoChoice || strings.HasPrefix(f.Fix, "write one of ")) {
		return false
	}
	part := topOf(f.Field)
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
