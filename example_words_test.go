package slopewright_test

import (
	"fmt"

	"github.com/slopewright/slopewright"
)

// A result in Spanish: its texts, and what is drawn and printed of it.
func ExampleWords_Result() {
	plan, err := slopewright.ReadPlan([]byte(`{
		"format": "slopewright.plan/1", "units": "metric",
		"ground": {"method": "levels", "readings": [{"at": 0, "level": 0}, {"at": "3 m", "level": "0.9 m"}]},
		"path": {"width": "1.2 m"}, "steps": {"fixed": [{"risers": 6, "tread": "0.6 m"}]}
	}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	result, err := slopewright.Make(plan)
	if err != nil {
		fmt.Println(err)
		return
	}
	spanish := slopewright.Language("es")
	fmt.Println(spanish.Result(result, plan).Answer[0].Says)
	_, err = slopewright.ReadPlan([]byte(`{"format": "slopewright.plan/1", "path": {"width": "1.2 m"}}`))
	fmt.Println(spanish.Faults(err))
	// Output:
	// 6 contrahuellas de 140 mm suben 900 mm en 3,000 m de distancia, sin descansos. Desde el pie: 5 huellas de 600 mm.
	// ground: falta; escriba cómo se midió la ladera: { "method": …, "readings": … }
}
