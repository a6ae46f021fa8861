package slopewright

import (
	"errors"
	"sort"
	"strconv"
	"strings"

	"github.com/slopewright/slopewright/internal/docjson"
)

// InOrder puts the faults of a plan, as [ReadPlan] and [Make] give them, in the order in
// which its document has their fields; a field that is missing comes after those that are
// there beside it. What the other faults hang on stays first. An error that is no
// [Faults] is given back as it is.
func InOrder(document []byte, err error) error {
	var all Faults
	if !errors.As(err, &all) {
		return err
	}
	n, _ := docjson.Parse(document)
	sorted := append(Faults(nil), all...)
	rest := sorted
	if len(all) > 1 && (strings.HasPrefix(all[1].Fix, ifRight) || strings.HasPrefix(all[1].Fix, ifWritten)) {
		rest = sorted[1:]
	}
	at := make(map[string][]int, len(rest))
	for i := range rest {
		at[rest[i].Field] = placeOf(n, rest[i].Field)
	}
	sort.SliceStable(rest, func(i, j int) bool {
		a, b := at[rest[i].Field], at[rest[j].Field]
		for k := range min(len(a), len(b)) {
			if a[k] != b[k] {
				return a[k] < b[k]
			}
		}
		return len(a) < len(b)
	})
	return sorted
}

// placeOf is where a document has a field: the place of each member and item on the way.
func placeOf(n docjson.Node, field string) (at []int) {
	for field != "" {
		if rest, ok := strings.CutPrefix(field, "["); ok {
			number, after, _ := strings.Cut(rest, "]")
			i, err := strconv.Atoi(number)
			if err != nil {
				return at
			}
			if at = append(at, i); i < 0 || i >= len(n.Items) {
				return at
			}
			n, field = n.Items[i], after
			continue
		}
		field = strings.TrimPrefix(field, ".")
		found := len(n.Fields)
		for i := range n.Fields { // of names that begin alike, the longest
			name := n.Fields[i].Name
			if inside(field, name) && name != "" && (found == len(n.Fields) || len(name) > len(n.Fields[found].Name)) {
				found = i
			}
		}
		if at = append(at, found); found == len(n.Fields) {
			return at
		}
		field, n = field[len(n.Fields[found].Name):], n.Fields[found].Value
	}
	return at
}
