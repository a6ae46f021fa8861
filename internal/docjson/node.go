// Package docjson reads JSON documents into Go structs in a way that suits
// documents people write by hand: every fault is found in one reading, each
// with the path of its field; unknown and repeated fields are faults; size,
// depth and the number of faults are bounded. From the same Go types it makes
// the JSON Schema that is published, so that the two cannot drift apart.
//
// The struct tags it understands:
//
//	json:"name"            the field's name; every field needs one
//	need:"true"            the field must be there
//	for:"string! levels"   the field belongs to these variants (values of the
//	                       enclosing field tagged variant:"true"); ! = needed there
//	variant:"true"         this string field names the variant
//	else:"…"               what would do where it belongs to another variant
//	one:"a b c"            the string must be one of these
//	range:"(0,200]"        numbers and lengths: the interval allowed, SI units
//	most:"40"              greatest length of a string or of a list
//	doc:"…"                one sentence for the schema, with the default
package docjson

// Bounds on what is read. A plan of a thousand readings is under 100 kB.
const (
	MaxBytes  = 4 << 20
	MaxDepth  = 16
	MaxFaults = 100
)

// What is wrong with a field that there is none of, before the name of its place, and
// with a word that is none of those there are.
const (
	noField  = "is not a field of "
	NoChoice = "is not one of the choices"
	NotUsed  = "is not used by method "
)

// Kind is what a JSON value is.
type Kind int

// The kinds of a JSON value.
const (
	Null Kind = iota
	Bool
	Number
	String
	List
	Object
)

// Node is one JSON value.
type Node struct {
	Kind   Kind
	Bool   bool
	Text   string // of a String; the literal of a Number
	Items  []Node // of a List
	Fields []Field
}

// Field is one member of an object, in the order written.
type Field struct {
	Name  string
	Value Node
}

// Get returns the member called name.
func (n Node) Get(name string) (Node, bool) {
	for _, f := range n.Fields {
		if f.Name == name {
			return f.Value, true
		}
	}
	return Node{}, false
}

// Equal is whether two values are written the same, members in the same order.
func (n Node) Equal(o Node) bool {
	if n.Kind != o.Kind || n.Bool != o.Bool || n.Text != o.Text || len(n.Items) != len(o.Items) || len(n.Fields) != len(o.Fields) {
		return false
	}
	for i := range n.Items {
		if !n.Items[i].Equal(o.Items[i]) {
			return false
		}
	}
	for i, f := range n.Fields {
		if f.Name != o.Fields[i].Name || !f.Value.Equal(o.Fields[i].Value) {
			return false
		}
	}
	return true
}

// Describe names the value for a message.
func (n Node) Describe() string {
	switch n.Kind {
	case Null:
		return "null"
	case Bool:
		if n.Bool {
			return "true"
		}
		return "false"
	case Number, String:
		return n.Text
	case List:
		return "a list"
	}
	return "an object"
}
