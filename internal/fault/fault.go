// Package fault is how every package of the module says what is wrong with its
// input: which field, what was found there, what is wrong with it and what
// would do instead. Faults are collected, so that one answer names them all.
package fault

import (
	"fmt"
	"strings"
)

// Fault is one thing wrong with the input. Its JSON form is part of the error
// document, format slopewright.error/1.
type Fault struct {
	_ [0]func() // not comparable, which spares code: see DEVELOPERS.md
	// Field is the path of the field in the caller's input, in the form
	// ground.readings[3].drop, counted from 0. Empty when the fault is not in
	// one field.
	Field string `json:"field"`
	// Got is what was found there, shortened to be readable. Empty when
	// nothing was.
	Got string `json:"got,omitempty"`
	// Problem says what is wrong, as the end of a sentence that begins with
	// the value: "is not a length".
	Problem string `json:"problem"`
	// Fix says what would do: "write 7 ft, 7' 2 1/2\" or 2.13 m".
	Fix string `json:"fix,omitempty"`
	// Kind is [Unitless], [Stray] or, as mostly, nothing.
	Kind string `json:"kind,omitempty"`
}

// Kinds of faults that programs do something about.
const (
	Unitless = "unit"  // a figure that lacks its unit of length
	Stray    = "field" // a field that there is none of
)

// Error gives the fault as one line: field: "got" problem; fix.
func (f Fault) Error() string {
	var b strings.Builder
	if f.Field != "" {
		b.WriteString(f.Field)
		b.WriteString(": ")
	}
	if f.Got != "" {
		fmt.Fprintf(&b, "%q ", f.Got)
	}
	b.WriteString(f.Problem)
	if f.Fix != "" {
		b.WriteString("; ")
		b.WriteString(f.Fix)
	}
	return b.String()
}

// List is every fault found, in the order of the input. It is an error when it
// is not empty; use [List.Err] to return it.
type List []Fault

// Error gives the faults one a line.
func (l List) Error() string {
	lines := make([]string, len(l))
	for i, f := range l {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Add appends a fault. What was found is shortened to 60 characters, so that a
// message stays readable whatever was typed.
func (l *List) Add(field, got, problem, fix string) {
	*l = append(*l, Fault{Field: field, Got: Shorten(got), Problem: problem, Fix: fix})
}

// Addf is Add with a formatted problem and no value or fix.
func (l *List) Addf(field, format string, args ...any) {
	l.Add(field, "", fmt.Sprintf(format, args...), "")
}

// Put appends err under field: each fault of a List or a single Fault keeps its
// own path below field; any other error becomes a fault with its text. A nil
// err adds nothing.
func (l *List) Put(field string, err error) {
	switch e := err.(type) {
	case nil:
	case List:
		for _, f := range e {
			f.Field = Join(field, f.Field)
			*l = append(*l, f)
		}
	case Fault:
		e.Field = Join(field, e.Field)
		*l = append(*l, e)
	default:
		*l = append(*l, Fault{Field: field, Problem: err.Error()})
	}
}

// Err returns the list as an error, or nil when it is empty.
func (l List) Err() error {
	if len(l) == 0 {
		return nil
	}
	return l
}

// Join joins two field paths; either may be empty.
func Join(parent, child string) string {
	switch {
	case parent == "":
		return child
	case child == "":
		return parent
	case child[0] == '[':
		return parent + child
	}
	return parent + "." + child
}

// Shorten cuts s to 60 characters, marking the cut.
func Shorten(s string) string {
	n := 0
	for i := range s {
		if n == 60 {
			return s[:i] + "…"
		}
		n++
	}
	return s
}

// Nearest is the name that was probably meant, at most so many strokes off, or "".
func Nearest(name string, names []string, most int) string {
	best, distance := "", most+1
	for _, n := range names {
		if e := edits(name, n, distance); e < distance {
			best, distance = n, e
		}
	}
	return best
}

// OneOf is what would do in place of a word that is none of the choices: them all, and first
// the one that was probably meant, a slip or an ending away.
func OneOf(word string, choices []string) string {
	word = strings.ToLower(strings.TrimSpace(word))
	meant := Nearest(word, choices, min(2, len(word)/3))
	for _, c := range choices {
		if meant == "" && len(word) > 2 && len(c) > 2 && (strings.HasPrefix(c, word) || strings.HasPrefix(word, c)) {
			meant = c
		}
	}
	if meant != "" {
		meant = "perhaps " + meant + " was meant; "
	}
	return meant + "write one of " + strings.Join(choices, ", ")
}

// edits is the Levenshtein distance of two short words, or limit where they
// differ by that much or more in length alone.
func edits(a, b string, limit int) int {
	if len(a)-len(b) >= limit || len(b)-len(a) >= limit {
		return limit
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := diagonal
			if a[i-1] != b[j-1] {
				cost++
			}
			diagonal = row[j]
			row[j] = min(cost, row[j]+1, row[j-1]+1)
		}
	}
	return row[len(b)]
}
