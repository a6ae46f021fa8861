package stair

import (
	"fmt"
	"math"
	"strconv"

	"github.com/martinlindhe/unit"
)

// text gives a length for a message: in metres from a metre up, else in
// millimetres, with the inches behind, as builders of both habits read them.
func text(l unit.Length) string {
	x := float64(l)
	if !finite(x) {
		return fmt.Sprint(x)
	}
	if math.Abs(x) >= 1 {
		return fmt.Sprintf("%.3f m (%s)", x, feet(x))
	}
	mm := strconv.FormatFloat(math.Round(x*1e4)/10, 'f', -1, 64)
	return fmt.Sprintf("%s mm (%s)", mm, feet(x))
}

// feet gives metres in feet, inches and sixteenths.
func feet(x float64) string {
	sign := ""
	if x < 0 {
		sign, x = "-", -x
	}
	n := int64(math.Round(x / 0.0254 * 16))
	ft, n := n/192, n%192
	in, frac := n/16, n%16
	den := int64(16)
	for frac != 0 && frac%2 == 0 {
		frac, den = frac/2, den/2
	}
	s := fmt.Sprint(in)
	switch {
	case frac != 0 && in == 0 && ft == 0:
		s = fmt.Sprintf("%d/%d", frac, den)
	case frac != 0:
		s = fmt.Sprintf("%d %d/%d", in, frac, den)
	}
	s += " in"
	if ft > 0 {
		s = fmt.Sprintf("%d ft %s", ft, s)
	}
	return sign + s
}

// pitchText writes the angle of a slope.
func pitchText(slope float64) string {
	return strconv.FormatFloat(math.Round(math.Atan(slope)*(180/math.Pi)*10)/10, 'f', -1, 64) + "°"
}
