// Package lang puts finished texts into another language. What the other
// packages say they say in English; a catalogue has for each kind of text an
// English pattern with holes and what it is in the other language. A hole is
// filled by what stands in the text, put into the language by the same
// catalogue.
package lang

import (
	"errors"
	"sort"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// Format begins the first line of a catalogue; the language's tag follows.
const Format = "slopewright.words/1 "

// Words is a catalogue that was read. What it says does not change; several may
// speak from it at once.
type Words struct {
	// Tag is the language's (BCP 47): es.
	Tag      string
	exact    map[string]string
	patterns []pattern
	// byWord are the patterns by one word that the text must have, of the
	// pattern's own words the one that the fewest patterns have; those without
	// a whole word are under "".
	byWord map[string][]int
	units  map[string]string
	// and joins the last of a list; andI does before the sound i.
	and, andI string

	// said are texts that were said before, with decimal points and commas: from
	// answer to answer few of them change.
	mutex sync.Mutex
	said  [2]map[string]string
}

// A pattern is literals with a hole after each but the last; out is literals
// with the number of a hole after each but the last.
type pattern struct {
	literals []string
	holes    []byte
	out      []string
	order    []int
	weight   int
}

// Read reads a catalogue:
//
//	slopewright.words/1 es
//	# a note
//	[units]
//	cu yd → yd³
//	[texts]
//	{n} of {} → {} de {}
//	[same]
//	what is the same in both
//
// An entry is the English and the other language. A hole is {}, any text that
// the catalogue has; {n}, a number or measure; {w}, a word without spaces and {=},
// anything, both kept as they are. In
// the other language {} are the fillings in their order, or {1} is the first.
func Read(catalogue string) (*Words, error) {
	first, rest, _ := strings.Cut(catalogue, "\n")
	tag, ok := strings.CutPrefix(first, Format)
	if !ok || tag == "" || len(tag) > 35 {
		return nil, errors.New("does not begin with " + Format + "and a language")
	}
	w := &Words{Tag: tag, exact: map[string]string{}, byWord: map[string][]int{}, units: map[string]string{}, and: " and ", andI: " and "}
	part := ""
	for rest != "" {
		var line string
		line, rest, _ = strings.Cut(rest, "\n")
		if line == "" || line[0] == '#' {
			continue
		}
		if line[0] == '[' {
			part = line
			continue
		}
		english, other, ok := strings.Cut(line, " → ")
		switch {
		case part == "[same]":
			w.exact[line] = line
		case !ok:
			return nil, errors.New("has nothing for: " + line)
		case part == "[units]":
			w.units[english] = other
		case part == "[and]":
			w.and, w.andI = " "+english+" ", " "+other+" "
		case strings.Contains(english, "{"):
			p, err := makePattern(english, other)
			if err != nil {
				return nil, err
			}
			w.patterns = append(w.patterns, p)
		default:
			w.exact[english] = other
		}
	}
	w.index()
	return w, nil
}

func makePattern(english, other string) (p pattern, err error) {
	cutHoles(english, func(before, hole string, last bool) {
		p.literals = append(p.literals, before)
		p.weight += len(before)
		switch {
		case last:
		case hole != "" && hole != "n" && hole != "w" && hole != "=" || len(p.holes) > 0 && before == "":
			err = errors.New("has holes that do not fit: " + english)
		default:
			p.holes = append(p.holes, (hole + " ")[0])
		}
	})
	cutHoles(other, func(before, hole string, last bool) {
		p.out = append(p.out, before)
		if last {
			return
		}
		i := len(p.order)
		if hole != "" {
			i = int(hole[0]) - '1'
		}
		if i < 0 || i >= len(p.holes) {
			err = errors.New("has holes that do not fit: " + other)
			i = 0
		}
		p.order = append(p.order, i)
	})
	return p, err
}

// cutHoles gives the literals of a pattern, each with the hole after it: braces
// about one letter at most.
func cutHoles(s string, f func(before, hole string, last bool)) {
	from := 0
	for i := 0; i+1 < len(s); i++ {
		if s[i] != '{' {
			continue
		}
		for n := range 2 {
			if end := i + 1 + n; end < len(s) && s[end] == '}' {
				f(s[from:i], s[i+1:end], false)
				from = end + 1
				i = end
				break
			}
		}
	}
	f(s[from:], "", true)
}

// index puts every pattern under its rarest word.
func (w *Words) index() {
	counts := map[string]int{}
	for i := range w.patterns {
		w.patterns[i].words(func(s string) { counts[s]++ })
	}
	for i := range w.patterns {
		key := ""
		w.patterns[i].words(func(s string) {
			if key == "" || counts[s] < counts[key] {
				key = s
			}
		})
		w.byWord[key] = append(w.byWord[key], i)
	}
}

// words gives the whole words of a pattern: those that a hole does not touch.
func (p *pattern) words(f func(string)) {
	for i, s := range p.literals {
		if i > 0 {
			for s != "" && letter(s[0]) {
				s = s[1:]
			}
		}
		if i < len(p.holes) {
			for s != "" && letter(s[len(s)-1]) {
				s = s[:len(s)-1]
			}
		}
		eachWord(s, f)
	}
}

// eachWord gives the runs of letters in a text. English has no others than
// these; the tables of all letters are kilobytes of the browser's program.
func eachWord(s string, f func(string)) {
	for i := 0; i < len(s); {
		from := i
		for i < len(s) && letter(s[i]) {
			i++
		}
		if i > from {
			f(s[from:i])
		}
		i++
	}
}

func letter(c byte) bool { return upper(c) || c >= 'a' && c <= 'z' }
func upper(c byte) bool  { return c >= 'A' && c <= 'Z' }
func figure(c byte) bool { return c >= '0' && c <= '9' }

// Speaker says the texts of one document. It is not for several goroutines.
type Speaker struct {
	*Words
	// Comma writes decimals after a comma.
	Comma bool
	// Missing is told what the catalogue does not have; it may be nil.
	Missing func(text string)

	names map[string]bool
	memo  map[string]string
	steps int
}

// Keep makes texts stay as they are: what somebody typed.
func (s *Speaker) Keep(texts ...string) {
	if s.names == nil {
		s.names = map[string]bool{}
	}
	for _, t := range texts {
		if t != "" {
			s.names[t] = true
		}
	}
	s.memo = nil
}

// Work that one text may take: attempts at a pattern, and how deep holes lie in
// holes.
const (
	maxSteps = 20000
	maxDepth = 12
	maxText  = 4000
)

// Say puts a text into the language. What the catalogue does not have stays
// English, sentence by sentence.
func (s *Speaker) Say(text string) string {
	if s == nil || text == "" || s.names[text] {
		return text
	}
	if out, ok := s.quantity(text); ok {
		return out
	}
	if s.memo == nil {
		s.memo = map[string]string{}
	}
	if out := s.recall(text); out != "" {
		return out
	}
	s.steps = 0
	if out, ok := s.say(text, 0); ok {
		s.remember(text, out)
		return out
	}
	var b strings.Builder
	for rest := text; rest != ""; {
		var sentence string
		sentence, rest = cutSentence(rest)
		s.steps = 0
		out, ok := s.say(strings.TrimSuffix(sentence, " "), 0)
		if !ok {
			if out = strings.TrimSuffix(sentence, " "); s.Missing != nil {
				s.Missing(out)
			}
		}
		b.WriteString(out)
		if rest != "" {
			b.WriteByte(' ')
		}
	}
	return b.String()
}

// Measure says a number or a measure, or one with another in brackets behind it, and
// leaves any other text as it is.
func (s *Speaker) Measure(text string) string {
	if s == nil {
		return text
	}
	first, second, both := strings.Cut(strings.TrimSuffix(text, ")"), " (")
	if both {
		return s.Measure(first) + " (" + s.Measure(second) + ")"
	}
	if out, ok := s.quantity(text); ok {
		return out
	}
	return text
}

// maxSaid bounds what is kept of what was said: then it begins anew.
const maxSaid = 4000

func (s *Speaker) point() int {
	if s.Comma {
		return 1
	}
	return 0
}

// recall gives what a text was said as before, or nothing.
func (s *Speaker) recall(text string) string {
	s.mutex.Lock()
	out := s.said[s.point()][text]
	s.mutex.Unlock()
	if out != "" && s.named(text) {
		return ""
	}
	return out
}

// remember keeps what a text is said as, unless it may depend on a name in it.
func (s *Speaker) remember(text, out string) {
	if s.named(text) {
		return
	}
	s.mutex.Lock()
	i := s.point()
	if s.said[i] == nil || len(s.said[i]) >= maxSaid {
		s.said[i] = map[string]string{}
	}
	s.said[i][text] = out
	s.mutex.Unlock()
}

// named says whether one of the names may stand in a text, its first letter
// perhaps made a capital, its spaces hyphens.
func (s *Speaker) named(text string) bool {
	text = strings.ReplaceAll(text, "-", " ")
	for n := range s.names {
		if strings.Contains(text, strings.ReplaceAll(n[1:], "-", " ")) {
			return true
		}
	}
	return false
}

// Told is Say, or nil for nobody's.
func (s *Speaker) Told() func(string) string {
	if s == nil {
		return nil
	}
	return s.Say
}

// cutSentence cuts a text after its first sentence and the space behind it.
func cutSentence(s string) (sentence, rest string) {
	for i := 0; i+2 < len(s); i++ {
		if s[i] == '.' && s[i+1] == ' ' {
			if c := s[i+2]; upper(c) || figure(c) {
				return s[:i+2], s[i+2:]
			}
		}
	}
	return s, ""
}

// none stands in the memo for a text that the catalogue does not have: no
// catalogue can write it.
const none = "\x00"

func (s *Speaker) say(text string, depth int) (string, bool) {
	if text == "" || depth > maxDepth || len(text) > maxText {
		return "", false
	}
	if out, ok := s.memo[text]; ok {
		return out, out != none
	}
	s.memo[text] = none // also while it is being worked on
	out, ok := "", false
	// First without its full stop: the last hole of a pattern would take that in.
	if short := strings.TrimSuffix(text, "."); short != text {
		if out, ok = s.say(short, depth+1); ok && !strings.HasSuffix(out, ".") {
			out += "."
		}
	}
	if !ok {
		out, ok = s.whole(text, depth)
	}
	if !ok {
		if upper(text[0]) {
			if out, ok = s.say(string(rune(text[0]|0x20))+text[1:], depth+1); ok {
				c, n := utf8.DecodeRuneInString(out)
				out = string(unicode.ToUpper(c)) + out[n:]
			}
		}
	}
	if !ok {
		if sentence, rest := cutSentence(text); rest != "" {
			if out, ok = s.say(strings.TrimSuffix(sentence, " "), depth+1); ok {
				var more string
				more, ok = s.say(rest, depth+1)
				out += " " + more
			}
		}
	}
	if !ok {
		out, ok = s.list(text, depth)
	}
	if ok {
		s.memo[text] = out
	} else if s.steps > maxSteps {
		delete(s.memo, text) // not known: there was no time to try
	}
	return out, ok
}

// whole says a text by one entry.
func (s *Speaker) whole(text string, depth int) (string, bool) {
	if s.names[text] {
		return text, true
	}
	if out, ok := s.exact[text]; ok {
		return out, true
	}
	if out, ok := s.quantity(text); ok {
		return out, true
	}
	var found []int
	last := ""
	try := func(word string) {
		if word == last {
			return
		}
		last = word
		for _, i := range s.byWord[word] {
			if s.patterns[i].might(text) {
				found = append(found, i)
			}
		}
	}
	eachWord(text, try)
	last = " "
	try("")
	sort.Slice(found, func(i, j int) bool {
		a, b := found[i], found[j]
		if s.patterns[a].weight != s.patterns[b].weight {
			return s.patterns[a].weight > s.patterns[b].weight
		}
		return a < b
	})
	for k, i := range found {
		if k > 0 && found[k-1] == i {
			continue
		}
		p := &s.patterns[i]
		fill := make([]string, len(p.holes))
		if s.match(p, 0, text[len(p.literals[0]):], fill, depth) {
			var b strings.Builder
			for j, t := range p.out {
				b.WriteString(t)
				if j < len(p.order) {
					b.WriteString(fill[p.order[j]])
				}
			}
			return b.String(), true
		}
	}
	if coded(text) {
		return text, true
	}
	if plain := strings.ReplaceAll(text, "-", " "); plain != text && !strings.Contains(text, " ") {
		return s.say(plain, depth+1) // an item's code
	}
	return "", false
}

// might says whether the literals of a pattern stand in a text in their order.
func (p *pattern) might(text string) bool {
	n := len(p.literals) - 1
	if !strings.HasPrefix(text, p.literals[0]) || !strings.HasSuffix(text, p.literals[n]) {
		return false
	}
	rest := text[len(p.literals[0]):]
	for _, t := range p.literals[1:] {
		i := strings.Index(rest, t)
		if i < 0 {
			return false
		}
		rest = rest[i+len(t):]
	}
	return true
}

// match fills the holes from the i-th on from rest.
func (s *Speaker) match(p *pattern, i int, rest string, fill []string, depth int) bool {
	next := p.literals[i+1]
	last := i == len(p.holes)-1
	for from := 1; from <= len(rest)-len(next); from++ {
		if s.steps++; s.steps > maxSteps {
			return false
		}
		if last {
			from = len(rest) - len(next)
		} else {
			k := strings.Index(rest[from:], next)
			if k < 0 {
				return false
			}
			from += k
		}
		if last && !strings.HasSuffix(rest, next) {
			return false
		}
		out, ok := s.fill(p.holes[i], rest[:from], depth)
		if ok {
			fill[i] = out
			if last || s.match(p, i+1, rest[from+len(next):], fill, depth) {
				return true
			}
		}
		if last || !ok && p.holes[i] == 'w' || p.holes[i] == 'n' && from > maxNumber {
			return false // more of the text will not do either
		}
	}
	return false
}

// maxNumber is the longest text that is taken for a number with its units.
const maxNumber = 48

func (s *Speaker) fill(kind byte, text string, depth int) (string, bool) {
	switch kind {
	case '=':
		return text, true
	case 'w':
		return text, !strings.Contains(text, " ")
	case 'n':
		return s.quantity(text)
	}
	return s.say(text, depth+1)
}

// list says a list of texts: a, b and c; d.
func (s *Speaker) list(text string, depth int) (string, bool) {
	for _, by := range [3]string{"; ", ", ", " and "} {
		for from := 0; ; {
			k := strings.Index(text[from:], by)
			if k < 0 {
				break
			}
			at := from + k
			from = at + len(by)
			if s.steps++; s.steps > maxSteps {
				return "", false
			}
			head, ok := s.whole(text[:at], depth+1)
			if !ok {
				continue
			}
			tail, ok := s.say(text[from:], depth) // lists are long, not deep
			if !ok {
				continue
			}
			join := by
			if by == " and " {
				if join = s.and; strings.HasPrefix(tail, "i") || strings.HasPrefix(tail, "hi") && !strings.HasPrefix(tail, "hie") {
					join = s.andI
				}
			}
			return head + join + tail, true
		}
	}
	return "", false
}

// coded says that a text is one word with a figure in it, such as the name of a
// clause or section, or a mark of two letters at most, or a currency.
func coded(text string) bool {
	return len(text) == 1 && upper(text[0]) || len(text) == 2 && upper(text[0]) && upper(text[1]) || currency(text) || strings.ContainsAny(text, "0123456789") && !strings.ContainsAny(text, " \t")
}

// quantity says numbers with their units: 5 ft 3 1/2 in, 1.25 m³, 2 × 8 ft.
func (s *Speaker) quantity(text string) (string, bool) {
	if text == "" || len(text) > maxNumber {
		return "", false
	}
	var b strings.Builder
	for rest := text; ; {
		n := numeral(rest)
		if n == 0 {
			return "", false
		}
		s.numeral(&b, rest[:n])
		if rest = rest[n:]; rest == "" {
			return b.String(), true
		}
		if rest[0] != ' ' {
			return "", false
		}
		b.WriteByte(' ')
		rest = rest[1:]
		// A unit of at most three words.
		end, best := 0, 0
		for range 3 {
			k := strings.IndexByte(rest[end:], ' ')
			if k < 0 {
				k = len(rest) - end
			}
			end += k
			if _, ok := s.units[rest[:end]]; ok || currency(rest[:end]) {
				best = end
			}
			if end++; end > len(rest) {
				break
			}
		}
		if best > 0 {
			unit, ok := s.units[rest[:best]]
			if !ok {
				unit = rest[:best]
			}
			b.WriteString(unit)
			if rest = rest[best:]; rest == "" {
				return b.String(), true
			}
			b.WriteByte(' ')
			rest = rest[1:]
		}
		if t, ok := strings.CutPrefix(rest, "× "); ok {
			b.WriteString("× ")
			rest = t
		}
	}
}

// currency says that a word is a currency's code (ISO 4217).
func currency(s string) bool {
	return len(s) == 3 && upper(s[0]) && upper(s[1]) && upper(s[2])
}

// numeral is how long the number at the beginning of a text is: figures and
// what stands among them, at least one figure.
func numeral(s string) int {
	any := false
	for i, c := range s {
		switch {
		case c >= '0' && c <= '9':
			any = true
		case c == ' ':
			if any {
				return i
			}
			return 0
		case strings.ContainsRune(".,/:+-−–±<>≤≥×°%'\"′″½¼¾⅛⅜⅝⅞", c):
		default:
			return 0
		}
	}
	if any {
		return len(s)
	}
	return 0
}

// numeral writes a number, after a comma where it has one point between figures.
func (s *Speaker) numeral(b *strings.Builder, n string) {
	at := strings.IndexByte(n, '.')
	if s.Comma && at > 0 && at < len(n)-1 && figure(n[at-1]) && figure(n[at+1]) {
		after := n[at+1:]
		// 1.2.3 is no decimal; 1.5:1.5 is two.
		end := 0
		for end < len(after) && figure(after[end]) {
			end++
		}
		if end == len(after) || after[end] != '.' {
			b.WriteString(n[:at])
			b.WriteByte(',')
			b.WriteString(after[:end])
			s.numeral(b, after[end:])
			return
		}
	}
	b.WriteString(n)
}
