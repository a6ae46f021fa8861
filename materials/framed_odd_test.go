package materials

import (
	"math"
	"reflect"
	"testing"
)

// set runs do with every number in v, one after another, put to an odd value.
func set(v reflect.Value, path string, do func(path string, x float64)) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			set(v.Field(i), path+"."+v.Type().Field(i).Name, do)
		}
	case reflect.Float64:
		old := v.Float()
		for _, x := range []float64{0, -1, 1e-12, 1e-4, 1e4, 1e300, math.NaN(), math.Inf(1), math.Inf(-1)} {
			v.SetFloat(x)
			do(path, x)
		}
		v.SetFloat(old)
	case reflect.Int:
		old := v.Int()
		for _, x := range []int64{0, -1, 1, 1000, math.MaxInt64, math.MinInt64} {
			v.SetInt(x)
			do(path, float64(x))
		}
		v.SetInt(old)
	}
}

// Whatever one number of the input is, the answer is a fault or finite numbers.
func TestFramedOddNumbers(t *testing.T) {
	for _, solid := range []bool{false, true} {
		job := struct {
			F FramedFlight
			D FramedDetail
		}{FramedFlight{First: 1, Risers: 12, Riser: in(7), Tread: in(11), Width: in(40), Drop: in(60), Platform: in(48), PlatformHeight: in(50)}, DefaultFramedDetail()}
		job.D.Solid = solid
		n, refused := 0, 0
		set(reflect.ValueOf(&job).Elem(), "", func(path string, x float64) {
			n++
			off, err := FramedTakeOff([]FramedFlight{job.F, job.F}, job.D)
			if err != nil {
				refused++
				if _, ok := err.(Faults); !ok {
					t.Errorf("%s = %v: %v", path, x, err)
				}
				return
			}
			for _, it := range off.Items {
				for _, q := range []Quantity{it.Need, it.Order} {
					for _, y := range []float64{q.Length.Meters(), q.Area.SquareMeters(), q.Volume.CubicMeters(), q.Mass.Kilograms(), float64(q.Count)} {
						if !finite(y) || y < 0 {
							t.Errorf("%s = %v: %+v", path, x, it)
						}
					}
				}
			}
			checks, err := job.F.Checks(job.D)
			if err != nil {
				t.Errorf("%s = %v: %v", path, x, err)
			}
			for _, c := range checks {
				if !finite(c.Limit.value()) || !finite(c.Actual.value()) {
					t.Errorf("%s = %v: %+v", path, x, c)
				}
			}
		})
		if n < 500 || refused < 200 {
			t.Errorf("%d odd numbers, %d refused", n, refused)
		}
	}
}
