package docjson

import (
	"encoding"
	"reflect"
	"strings"
)

// Schema makes the JSON Schema (draft 2020-12) of the documents that Decode
// reads into a struct like v, or, with written set, of the documents that
// [Marshal] writes from it.
func Schema(v any, id, title string, written bool) []byte {
	g := generator{written: written}
	s := g.object(reflect.TypeOf(v), "")
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["$id"] = id
	s["title"] = title
	b, err := Marshal(s, 2)
	if err != nil {
		panic("docjson: schema does not encode: " + err.Error())
	}
	return append(b, '\n')
}

type generator struct{ written bool }

type object = map[string]any

// object gives a struct's schema: one object, or, where a field names the
// variant, a choice of one object per variant.
func (g generator) object(t reflect.Type, variant string) object {
	if variant == "" {
		for i := range t.NumField() {
			tag := tagsOf(t.Field(i))
			if tag.variant {
				var choices []any
				for _, v := range tag.one {
					choices = append(choices, g.object(t, v))
				}
				return object{"oneOf": choices}
			}
		}
	}
	properties := object{}
	required := []string{}
	for i := range t.NumField() {
		f := t.Field(i)
		tag := tagsOf(f)
		if tag.name == "-" || tag.name == "" {
			continue
		}
		ok, need := tag.belongs(variant)
		if !ok {
			continue
		}
		if g.written {
			need = !strings.Contains(f.Tag.Get("json"), ",omit")
		}
		s := g.value(f.Type, tag, variant)
		if tag.variant {
			s = object{"const": variant}
			need = true
		}
		if tag.doc != "" {
			s["description"] = tag.doc
		}
		properties[tag.name] = s
		if need {
			required = append(required, tag.name)
		}
	}
	out := object{"type": "object", "properties": properties, "additionalProperties": false}
	if len(required) > 0 {
		out["required"] = required
	}
	return out
}

func (g generator) value(t reflect.Type, tag tags, variant string) object {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if s, ok := reflect.New(t).Interface().(Scalar); ok {
		if u, ok := s.(Unitary); ok {
			u.In(tag.unit)
		}
		return s.JSONSchema()
	}
	if t.Implements(reflect.TypeFor[encoding.TextMarshaler]()) {
		return object{"type": "string"}
	}
	switch t.Kind() {
	case reflect.Struct:
		return g.object(t, variant)
	case reflect.Slice:
		inner := tag
		inner.most = 0
		out := object{"type": "array", "items": g.value(t.Elem(), inner, variant)}
		if tag.most > 0 {
			out["maxItems"] = tag.most
		}
		if g.written {
			out["type"] = []string{"array", "null"}
		}
		return out
	case reflect.Map:
		return object{"type": "object", "additionalProperties": g.value(t.Elem(), tags{}, variant)}
	case reflect.String:
		if len(tag.one) == 1 {
			return object{"const": tag.one[0]}
		}
		if len(tag.one) > 0 {
			return object{"enum": tag.one}
		}
		out := object{"type": "string"}
		if !g.written {
			out["maxLength"] = 200
			if tag.most > 0 {
				out["maxLength"] = tag.most
			}
		}
		return out
	case reflect.Bool:
		return object{"type": "boolean"}
	case reflect.Int:
		return number("integer", tag.scope)
	case reflect.Float64:
		return number("number", tag.scope)
	}
	panic("docjson: no schema for " + t.String())
}

func number(kind, scope string) object {
	out := object{"type": kind}
	if scope != "" {
		r := parseRange(scope)
		out[pick(r.openLow, "exclusiveMinimum", "minimum")] = r.low
		out[pick(r.openHigh, "exclusiveMaximum", "maximum")] = r.high
	}
	return out
}

func pick(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}
