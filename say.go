package slopewright

import (
	"reflect"
	"strings"

	"github.com/slopewright/slopewright/internal/docjson"
	"github.com/slopewright/slopewright/internal/fault"
	"github.com/slopewright/slopewright/internal/lang"
)

// Words are the words of a language beside English: what a result, its drawings
// and sheets, and faults say in it. English needs none: nil says all in English. A
// Words does not change.
type Words struct{ words *lang.Words }

// ReadWords reads a catalogue of words, a file of the format that
// internal/lang/es.txt has. The error says what is wrong with it.
func ReadWords(catalogue []byte) (*Words, error) {
	w, err := lang.Read(string(catalogue))
	if err != nil {
		return nil, fault.List{{Field: "words", Problem: err.Error()}}
	}
	return &Words{w}, nil
}

// Result gives a result in the language, made from one in English, which stays
// as it is. The plans it was made from tell what somebody typed, which stays
// too. What is drawn or printed of it then is in the language as well, of what
// the result was when it was put into the language.
func (w *Words) Result(r Result, plans ...Plan) Result {
	if w == nil {
		return r
	}
	r.said = w.speaker(plans...)
	out := r
	told(r.said, &out)
	out.english = &r
	return out
}

// Faults gives faults in the language; any other error stays as it is.
func (w *Words) Faults(err error) error {
	all, ok := faultsOf(err)
	if w == nil || !ok {
		return err
	}
	s := w.speaker()
	told(s, &all)
	for i := range all {
		all[i].Got = s.Measure(all[i].Got) // beside the problem, which has measures too
	}
	return all
}

// speaker says what is made of plans: in Spanish with a comma before decimals, of feet
// as well, so that a text has one mark.
func (w *Words) speaker(plans ...Plan) *lang.Speaker {
	s := &lang.Speaker{Words: w.words, Comma: true, Missing: missing}
	for _, p := range plans {
		s.Keep(p.Title, p.Notes)
		if q := p.Quote; q != nil {
			s.Keep(q.From, q.Contact, q.For, q.Number, q.Date, q.ValidUntil)
			s.Keep(q.Terms...)
			s.Keep(q.Exclusions...)
		}
		for _, x := range p.Soil.Places {
			s.Keep(x.Name)
		}
		for _, x := range p.Prices.Items {
			s.Keep(x.Name)
		}
		for _, x := range p.Prices.Deliveries {
			s.Keep(x.Name)
		}
		for _, x := range p.Prices.Labour {
			s.Keep(x.Name)
		}
	}
	return s
}

// missing is told the texts that a catalogue does not have; tests listen.
var missing func(text string)

// said are the fields with text in them, by their names; every other field of a
// document is a code, a name that refers to one, or what somebody typed. The
// last line is of MarkText.
const said = " Says Name Source State Note Notes Rounding Need Buy This Other Unpriced Open Where Clause Limit Actual Applies" +
	" Problem Fix FromPlace ToPlace Full" +
	" Station FromHead Level Drop DigTo "

// told puts the texts of what document points to into the speaker's language.
func told(s *lang.Speaker, document any) {
	if s != nil {
		tell(s, reflect.ValueOf(document).Elem(), false)
	}
}

// tell puts a value, which may be changed, into the language; text says whether
// its strings are texts. What it points to is copied first.
func tell(s *lang.Speaker, v reflect.Value, text bool) {
	switch v.Kind() {
	case reflect.String:
		if text {
			v.SetString(s.Say(v.String()))
		}
	case reflect.Pointer:
		if !v.IsNil() {
			p := reflect.New(v.Type().Elem())
			p.Elem().Set(v.Elem())
			tell(s, p.Elem(), text)
			v.Set(p)
		}
	case reflect.Slice:
		if v.Len() > 0 {
			c := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
			for i := range c.Len() {
				c.Index(i).Set(v.Index(i))
				tell(s, c.Index(i), text)
			}
			v.Set(c)
		}
	case reflect.Struct:
		t := v.Type()
		for i := range t.NumField() {
			if f := t.Field(i); f.IsExported() && f.Type.Kind() != reflect.Float64 {
				tell(s, v.Field(i), strings.Contains(said, " "+f.Name+" "))
			}
		}
	}
}

// say says a text in the language the result is to be in.
func (r Result) say(text string) string { return r.said.Say(text) }

// wanted gives the words of the language that a request asks for, or nil for
// English. What is not a request, or asks for no language there is, is left to
// who reads it.
func (w *Words) wanted(request docjson.Node) (*Words, error) {
	l, ok := request.Get("lang")
	f, _ := request.Get("format")
	if !ok || l.Kind != docjson.String || f.Text != RequestFormat || l.Text != "es" {
		return nil, nil
	}
	if w == nil || w.words.Tag != l.Text {
		if w = Language(l.Text); w == nil {
			return nil, Faults{{Field: "lang", Got: l.Text, Problem: "has no words in this program yet", Fix: "hand over slopewright-es.txt first, or leave lang out"}}
		}
	}
	return w, nil
}

// plans are those of a request.
func (q *Request) plans() []Plan {
	out := []Plan{*q.Plan}
	if q.Compare != nil {
		out = append(out, *q.Compare)
	}
	return out
}
