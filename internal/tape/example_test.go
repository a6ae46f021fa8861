package tape_test

import (
	"fmt"

	"github.com/slopewright/slopewright/internal/tape"
)

func ExampleParseLength() {
	for _, s := range []string{`5' 3 3/8"`, "5-3 3/8", "63.375 in", "1609.725 mm"} {
		l, err := tape.ParseLength(s)
		fmt.Println(l.Meters(), err)
	}
	_, err := tape.ParseLength("5 ft 14 in")
	fmt.Println(err)
	// Output:
	// 1.609725 <nil>
	// 1.609725 <nil>
	// 1.609725 <nil>
	// 1.609725 <nil>
	// "5 ft 14 in" has a whole ft or more in its in; write 6 ft 2 in
}

func ExampleStyle_Length() {
	fmt.Println(tape.Style{Imperial: true}.Length(1.61))
	fmt.Println(tape.Style{Imperial: true, Denominator: 64}.Length(1.61))
	fmt.Println(tape.Style{}.Length(1.61))
	fmt.Println(tape.Style{Metres: true}.Length(1.61))
	// Output:
	// 5 ft 3 3/8 in
	// 5 ft 3 25/64 in
	// 1610 mm
	// 1.610 m
}

func ExampleParseSlope() {
	for _, s := range []string{"2 %", "1:50", "20 mm per m"} {
		r, err := tape.ParseSlope(s)
		fmt.Println(r, err)
	}
	_, err := tape.ParseSlope("0.02")
	fmt.Println(err)
	// Output:
	// 0.02 <nil>
	// 0.02 <nil>
	// 0.02 <nil>
	// "0.02" is a number without a unit: per cent or a ratio?; write 0.02 %, 0.02° or 0.02:1 (rise:run)
}

func ExampleParseAngle() {
	a, err := tape.ParseAngle("12° 30'")
	fmt.Println(a.Degrees(), err)
	// Output: 12.5 <nil>
}
