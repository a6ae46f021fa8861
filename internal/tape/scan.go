package tape

import (
	"fmt"
	"math/big"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/slopewright/slopewright/internal/fault"
)

// maxRunes is the longest text read, in characters. The longest sensible
// reading is under 30; the cap bounds the arithmetic on its digits.
const maxRunes = 64

// token is one piece of a reading: a number, a ready-made fraction, a word, or
// a mark. Look-alike marks have been folded into one by then.
type token struct {
	kind rune // number, vulgar, word, the mark itself, or end
	text string
	val  ratio // of a number or a ready-made fraction
	// plain says that a number is digits only, without a decimal mark.
	plain bool
}

const (
	end    rune = 0
	number rune = 'n'
	vulgar rune = 'v'
	word   rune = 'w'
	foot   rune = '\'' // also minutes
	inch   rune = '"'  // also seconds
	hyphen rune = '-'  // joins 5'-3 3/8", or is a minus sign
	minus  rune = '−'  // U+2212, only ever a minus sign
	degree rune = '°'
)

// reader goes through the tokens of one text and words its faults.
type reader struct {
	text  string
	what  string // "a length", for messages
	like  string // texts that would do, for messages
	minus string // the sign, where there is one
	toks  []token
	i     int
}

// bad is the fault of this text.
func (r *reader) bad(problem, fix string) fault.Fault {
	return fault.Fault{
		Got:     fault.Shorten(strings.ToValidUTF8(r.text, "�")),
		Problem: problem,
		Fix:     fix,
	}
}

// Figures is a text with the letters o and l that stand where figures do, at the front
// of a word or in a number, as the figures 0 and 1 that were probably meant.
func Figures(s string) string {
	var b strings.Builder
	letter := false
	for _, c := range s {
		x := c
		switch c {
		case 'o', 'O':
			x = '0'
		case 'l', 'I':
			x = '1'
		}
		if letter {
			x = c
		}
		b.WriteRune(x)
		letter = unicode.IsLetter(x)
	}
	return b.String()
}

// letters is the fault err of a text that is no what or, where it is one once letters are
// taken for the figures they look like, of these.
func letters(s, what string, is func(string) bool, err error) error {
	f, ok := err.(fault.Fault)
	if meant := Figures(s); ok && meant != s && is(meant) {
		f.Problem, f.Fix = "is not "+what+": it has a letter for a figure in it", "write "+meant
		return f
	}
	return err
}

func (r *reader) peek() token { return r.at(0) }

func (r *reader) at(n int) token {
	if r.i+n < len(r.toks) {
		return r.toks[r.i+n]
	}
	return token{}
}

// take steps over the next token if it is of that kind.
func (r *reader) take(kind rune) bool {
	if r.peek().kind != kind || kind == end {
		return false
	}
	r.i++
	return true
}

// sign reads a leading plus or minus.
func (r *reader) sign() (negative bool) {
	if r.take('+') {
		return false
	}
	if r.take(hyphen) || r.take(minus) {
		r.minus = "-"
	}
	return r.minus != ""
}

// scan cuts s into tokens. It refuses what can be no reading of any kind: no
// text, too much of it, unknown characters, a number with two decimal marks.
func scan(s, what, like string) (*reader, error) {
	r := &reader{text: s, what: what, like: like}
	// The second test keeps a very long text from being counted.
	if len(s) > utf8.UTFMax*maxRunes || utf8.RuneCountInString(s) > maxRunes {
		return nil, r.bad("is longer than 64 characters", "write "+like)
	}
	if !utf8.ValidString(s) {
		return nil, r.bad("is not readable text (invalid UTF-8)", "write "+like)
	}
	if strings.TrimFunc(s, blank) == "" {
		return nil, r.bad("there is no text for "+what, "write "+like)
	}
	for rest := s; rest != ""; {
		c, size := utf8.DecodeRuneInString(rest)
		mark, isMark := fold(c)
		last, _ := utf8.DecodeLastRuneInString(s[:len(s)-len(rest)])
		next, _ := utf8.DecodeRuneInString(rest[size:])
		switch {
		case blank(c):
			rest = rest[size:]
		case c == '.' && unicode.IsLetter(last) && !digit(next): // the point of ft.
			rest = rest[size:]
		case c == ',' && blank(next) && len(rest) < len(s) && !digit(last): // 5 ft, 3 in
			rest = rest[size:]
		case (c == '.' || c == ',') && len(rest) < len(s) && !blank(last) && !(r.signed() && digit(next)):
			return nil, r.bad("is not "+what+": the "+quote(string(c))+" after "+quote(string(last))+" may be a decimal mark or not",
				"write a space before a number, like 5 ft 3.5 in")
		case digit(c) || c == '.' || c == ',':
			n := strings.IndexFunc(rest, func(c rune) bool { return !digit(c) && c != '.' && c != ',' })
			if n < 0 {
				n = len(rest)
			}
			t, err := r.number(rest[:n])
			if err != nil {
				return nil, err
			}
			r.toks = append(r.toks, t)
			rest = rest[n:]
		case isMark:
			rest = rest[size:]
			// Two single quotes are one double quote.
			if m, ok := fold(next); ok && mark == foot && m == foot {
				mark, rest = inch, rest[utf8.RuneLen(next):]
			}
			r.toks = append(r.toks, token{kind: mark, text: string(mark)})
		case unicode.IsLetter(c):
			n := strings.IndexFunc(rest, func(c rune) bool { _, m := fold(c); return m || !unicode.IsLetter(c) })
			if n < 0 {
				n = len(rest)
			}
			r.toks = append(r.toks, token{kind: word, text: spelled(strings.ToLower(rest[:n]))})
			rest = rest[n:]
		default:
			if num, den := fraction(c); den != 0 {
				r.toks = append(r.toks, token{kind: vulgar, text: string(c), val: ratioOf(num, den)})
				rest = rest[size:]
				continue
			}
			return nil, r.bad("is not "+what+": "+quote(string(c))+" has no place in it", "write "+like)
		}
	}
	return r, nil
}

// signed says that the one token so far is a minus.
func (r *reader) signed() bool {
	return len(r.toks) == 1 && (r.toks[0].kind == hyphen || r.toks[0].kind == minus)
}

// spelled gives a word of Spanish as the word for it that is read below, any
// other as it is.
func spelled(s string) string {
	switch s {
	case "pie", "pies":
		return "ft"
	case "pulgada", "pulgadas", "pulg":
		return "in"
	case "metro", "metros":
		return "m"
	case "centímetro", "centímetros", "centimetro", "centimetros":
		return "cm"
	case "milímetro", "milímetros", "milimetro", "milimetros":
		return "mm"
	case "grado", "grados":
		return "deg"
	case "por":
		return "per"
	}
	return s
}

func digit(c rune) bool { return c >= '0' && c <= '9' }

// number reads digits with at most one decimal mark. A point is always the
// decimal mark. A comma is, unless it could as well part the thousands.
func (r *reader) number(s string) (token, error) {
	at := strings.IndexAny(s, ".,")
	if at < 0 {
		v := decimals(s)
		return token{kind: number, text: s, val: v, plain: true}, nil
	}
	whole, dec := s[:at], s[at+1:]
	if strings.ContainsAny(dec, ".,") {
		return token{}, r.bad("has more than one decimal mark in "+quote(s),
			"write one point and no marks between the thousands, like 1234.5")
	}
	if dec == "" {
		return token{}, r.bad("has no digit after the decimal mark in "+quote(s), "write the digits, like 9.5, or leave the mark out")
	}
	sign := ""
	if r.signed() {
		sign = "-"
	}
	if s[at] == ',' && len(dec) == 3 && len(whole) >= 1 && len(whole) <= 3 && whole != "0" {
		return token{}, r.bad("may mean "+sign+whole+dec+" or "+sign+whole+"."+dec+": the comma may part thousands or decimals",
			"write "+sign+whole+dec+" or "+sign+whole+"."+dec)
	}
	text := whole + "." + dec
	if whole == "" {
		text = "0" + text
	}
	v := decimals(text)
	return token{kind: number, text: text, val: v}, nil
}

// blank says whether c is a space of any width, or one that is not there.
func blank(c rune) bool {
	return unicode.IsSpace(c) || unicode.Is(unicode.Zs, c) || c == '\u200b' || c == '\u2060' || c == '\ufeff'
}

// fold gives the mark that c stands for.
func fold(c rune) (rune, bool) {
	switch c {
	case '\'', '′', '’', '‘', '‛', '`', '´', 'ʹ', 'ʼ', 'ˈ':
		return foot, true
	case '"', '″', '”', '“', '‟', '„', 'ʺ', '˝', '〃':
		return inch, true
	case '-', '\u2010', '\u2011', '\u2012', '\u2013':
		return hyphen, true
	case minus:
		return minus, true
	case '/', '\u2044', '\u2215': // solidus, fraction slash, division slash
		return '/', true
	case degree, 'º', '˚':
		return degree, true
	case ':', '\u2236', '\uff1a':
		return ':', true
	case '%', '‰', '+':
		return c, true
	}
	return 0, false
}

// fraction gives the value of a ready-made fraction, 0/0 for other characters.
func fraction(c rune) (num, den int64) {
	switch c {
	case '½':
		return 1, 2
	case '⅓':
		return 1, 3
	case '⅔':
		return 2, 3
	case '¼':
		return 1, 4
	case '¾':
		return 3, 4
	case '⅕':
		return 1, 5
	case '⅖':
		return 2, 5
	case '⅗':
		return 3, 5
	case '⅘':
		return 4, 5
	case '⅙':
		return 1, 6
	case '⅚':
		return 5, 6
	case '⅐':
		return 1, 7
	case '⅛':
		return 1, 8
	case '⅜':
		return 3, 8
	case '⅝':
		return 5, 8
	case '⅞':
		return 7, 8
	case '⅑':
		return 1, 9
	case '⅒':
		return 1, 10
	}
	return 0, 0
}

// quantity is a number as written: 47, 9.5, 3/8, 3 3/8, 3-3/8, 3⅜.
type quantity struct {
	val  ratio
	text string // with ASCII fractions, for messages
	// plain says digits only: the kind that may stand before a smaller unit.
	plain bool
	// joined says that a whole number and a fraction are joined by a hyphen,
	// which without a unit may as well be feet and inches.
	joined bool
}

// atNumber says whether a number comes next.
func (r *reader) atNumber() bool {
	k := r.peek().kind
	return k == number || k == vulgar
}

// quantity reads a number with its fraction.
func (r *reader) quantity() (quantity, error) {
	t := r.peek()
	switch {
	case t.kind == vulgar:
		r.i++
		return quantity{val: t.val, text: t.val.String()}, nil
	case t.kind == end:
		return quantity{}, r.bad("is not "+r.what+": a number is missing at the end", "write "+r.like)
	case t.kind != number:
		return quantity{}, r.bad("is not "+r.what+": "+quote(t.text)+" stands where a number should", "write "+r.like)
	}
	if r.at(1).kind == '/' && r.at(2).kind == number {
		f, err := r.slashed(ratioOf(0, 1))
		if err != nil {
			return quantity{}, err
		}
		return quantity{val: f, text: f.String()}, nil
	}
	r.i++
	q := quantity{val: t.val, text: t.text, plain: t.plain}
	skip := 0
	if r.peek().kind == hyphen {
		skip = 1
	}
	var f ratio
	switch {
	case r.at(skip).kind == vulgar:
		f = r.at(skip).val
		r.i += skip + 1
	case r.at(skip).kind == number && r.at(skip+1).kind == '/' && r.at(skip+2).kind == number:
		r.i += skip
		var err error
		if f, err = r.slashed(q.val); err != nil {
			return quantity{}, err
		}
	default:
		return q, nil
	}
	if !q.plain {
		return quantity{}, r.bad("has both decimals and a fraction in "+quote(q.text+" "+f.String()), "write one or the other, like 9.5 or 9 1/2")
	}
	return quantity{val: q.val.plus(f), text: q.text + " " + f.String(), joined: skip == 1}, nil
}

// slashed reads number / number, a fraction under 1, after a whole number or 0.
func (r *reader) slashed(after ratio) (ratio, error) {
	num, den := r.at(0), r.at(2)
	r.i += 3
	said := num.text + "/" + den.text
	switch {
	case !num.plain || !den.plain:
		return ratio{}, r.bad("has decimals in the fraction "+quote(said), "write whole numbers above and below the line, like 3/8")
	case den.val.sign() == 0:
		return ratio{}, r.bad("has nothing but 0 below the line of "+quote(said), "write a fraction like 3/8")
	}
	f := num.val.over(den.val)
	if f.cmp(ratioOf(1, 1)) >= 0 {
		all := f.plus(after)
		whole := all.whole()
		fix := r.minus + whole.String()
		if left := all.minus(ratio{whole, big.NewInt(1)}); left.sign() != 0 {
			fix += " " + left.String()
		}
		return ratio{}, r.bad("has a fraction of 1 or more, "+quote(said), "write "+fix)
	}
	return f, nil
}

// quote sets s in quotes without escaping inch marks, which would be noise in
// a message about them. What cannot be seen is given by its code.
func quote(s string) string {
	var b strings.Builder
	for _, c := range s {
		if unicode.IsPrint(c) {
			b.WriteRune(c)
		} else {
			fmt.Fprintf(&b, "%U", c)
		}
	}
	return "“" + b.String() + "”"
}
