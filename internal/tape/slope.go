package tape

import (
	"math"
	"strings"

	"github.com/martinlindhe/unit"
)

const (
	likeSlope = "a slope like 2 %, 1:48 (rise:run), 1/4 in per ft or 12°"
	likeAngle = "an angle like 12°, 12.5 deg or 12° 30'"
	// maxSlope bounds the slopes read, rise over run, either sign.
	maxSlope = 100
)

// ParseSlope reads a slope and gives it as rise ÷ run:
//
//	2 %   20 ‰   1:48   1 in 48   1/4 in per ft   20 mm/m   12°   12 deg 30 min
//
// Colons are rise:run, so 2:1 is twice as steep as 45°. A leading minus sign
// turns the slope round. The result is within ±100 and is the float64 nearest
// to what was written; of an angle, the tangent. A number alone is refused,
// since 2 may be meant as 2 % or as a ratio. The error is a fault.Fault.
func ParseSlope(s string) (float64, error) {
	f, err := anySlope(s)
	if err != nil {
		err = letters(s, "a slope", func(t string) bool { _, err := anySlope(t); return err == nil }, err)
	}
	return f, err
}

func anySlope(s string) (float64, error) {
	r, err := scan(s, "a slope", likeSlope)
	if err != nil {
		return 0, err
	}
	negative := r.sign()
	if r.isAngle() {
		return r.tangent(negative)
	}
	v, err := r.slope()
	if err != nil {
		return 0, err
	}
	if t := r.peek(); t.kind != end {
		return 0, r.bad("is not a slope: "+quote(t.text)+" is left over", "write "+likeSlope)
	}
	if v.cmp(ratioOf(maxSlope, 1)) > 0 {
		return 0, r.bad("is steeper than 100:1", "write rise:run, like 1:48")
	}
	f := v.float()
	if negative && f != 0 {
		f = -f
	}
	return f, nil
}

// slope reads the forms that are ratios of two numbers.
func (r *reader) slope() (ratio, error) {
	start := r.i
	q, err := r.quantity()
	if err != nil {
		return ratio{}, err
	}
	t := r.peek()
	per := func(n int64) ratio {
		r.i++
		return q.val.over(ratioOf(n, 1))
	}
	switch {
	case t.kind == end:
		x := r.minus + q.text
		rise := x + ":1"
		if !strings.Contains(x, " ") && strings.Contains(x, "/") {
			rise = strings.Replace(x, "/", ":", 1)
		}
		return ratio{}, r.bad("is a number without a unit: per cent or a ratio?", "write "+x+" %, "+x+"° or "+rise+" (rise:run)")
	case t.kind == '%', t.kind == word && (t.text == "percent" || t.text == "pct"):
		return per(100), nil
	case t.kind == '‰':
		return per(1000), nil
	case t.kind == word && t.text == "per" && r.at(1).text == "cent":
		r.i++
		return per(100), nil
	case t.kind == ':', t.kind == word && t.text == "in" && r.at(1).kind == number && r.at(2).kind == end:
		r.i++
		run, err := r.quantity()
		if err != nil {
			return ratio{}, err
		}
		return r.gradient(q.val, run.val)
	}
	r.i = start
	rise, err := r.length()
	if err != nil {
		return ratio{}, err
	}
	if r.peek().kind == end {
		return ratio{}, r.bad("is a length, not a slope", "write what it rises in, like 1/4 in per ft or 20 mm per m")
	}
	r.i++ // per or the slash
	if r.atNumber() {
		run, err := r.length()
		if err != nil {
			return ratio{}, err
		}
		return r.gradient(rise, run)
	}
	m, ok, err := r.measure()
	if err != nil {
		return ratio{}, err
	}
	if !ok {
		return ratio{}, r.bad("is not a slope: the unit it rises in is missing", "write "+likeSlope)
	}
	return r.gradient(rise, m.metres())
}

// gradient divides, and refuses no run.
func (r *reader) gradient(rise, run ratio) (ratio, error) {
	if run.sign() == 0 {
		return ratio{}, r.bad("has no run: nothing rises in a length of 0", "write rise:run, like 1:48")
	}
	return rise.over(run), nil
}

// isAngle says whether the text names degrees.
func (r *reader) isAngle() bool {
	for _, t := range r.toks {
		if t.isDegree() {
			return true
		}
	}
	return false
}

func (t token) isDegree() bool {
	return t.kind == degree || t.kind == word && (t.text == "deg" || t.text == "degs" || t.text == "degree" || t.text == "degrees")
}

// tangent reads an angle as a slope.
func (r *reader) tangent(negative bool) (float64, error) {
	d, err := r.angle()
	if err != nil {
		return 0, err
	}
	tan := math.Tan(float64(unit.Angle(d) * unit.Degree))
	// The tangent turns round at a right angle, so the angle is tested too.
	if d >= 90 || tan > maxSlope {
		return 0, r.bad("is steeper than 100:1", "write an angle below 89.4°")
	}
	if negative {
		tan = -tan
	}
	return tan, nil
}

// ParseAngle reads an angle in degrees: 12°, 12.5 deg, 12° 30', 12 deg 30 min,
// 12° 30' 15", with a leading minus sign. The result is within ±360°. A grade
// in per cent or as a ratio is refused. The error is a fault.Fault.
func ParseAngle(s string) (unit.Angle, error) {
	a, err := anyAngle(s)
	if err != nil {
		err = letters(s, "an angle", func(t string) bool { _, err := anyAngle(t); return err == nil }, err)
	}
	return a, err
}

func anyAngle(s string) (unit.Angle, error) {
	r, err := scan(s, "an angle", likeAngle)
	if err != nil {
		return 0, err
	}
	negative := r.sign()
	d, err := r.angle()
	if err != nil {
		return 0, err
	}
	if d > 360 {
		return 0, r.bad("is more than a full turn", "write an angle up to 360°")
	}
	if negative && d != 0 {
		d = -d
	}
	return unit.Angle(d) * unit.Degree, nil
}

// angle reads degrees, minutes and seconds up to the end and gives degrees,
// rounded once. The sign has been read.
func (r *reader) angle() (float64, error) {
	q, err := r.quantity()
	if err != nil {
		return 0, err
	}
	t := r.peek()
	switch {
	case t.isDegree():
		r.i++
	case t.kind == end:
		return 0, r.bad("has no unit", "write "+r.minus+q.text+"° if it is in degrees")
	case t.kind == '%', t.kind == '‰', t.kind == ':', t.kind == word && (t.text == "percent" || t.text == "pct" || t.text == "per" || t.text == "in"):
		return 0, r.bad("is a grade, not an angle", "write the angle in degrees, like 12°, or give it as a grade")
	default:
		return 0, r.bad("is not an angle: "+quote(t.text)+" stands where degrees should", "write "+likeAngle)
	}
	sum := q.val
	plain := q.plain
	for i, part := range []struct {
		mark  rune
		words [4]string
		name  string
		per   int64
	}{
		{foot, [4]string{"min", "mins", "minute", "minutes"}, "minutes", 60},
		{inch, [4]string{"sec", "secs", "second", "seconds"}, "seconds", 3600},
	} {
		if r.peek().kind == end {
			break
		}
		at := r.i
		q, err := r.quantity()
		if err != nil {
			return 0, err
		}
		t := r.peek()
		named := false
		for _, w := range part.words {
			named = named || t.kind == word && t.text == w
		}
		if t.kind != part.mark && !named {
			if i == 0 {
				r.i = at // 12° 15" has no minutes
				continue
			}
			return 0, r.bad("is not an angle: minutes or seconds should follow the degrees, each with its mark", "write "+likeAngle)
		}
		r.i++
		if !plain {
			return 0, r.bad("has a fraction before its "+part.name, "write decimals of a degree alone, like 12.5°, or whole degrees, like 12° 30'")
		}
		if q.val.cmp(ratioOf(60, 1)) >= 0 {
			return 0, r.bad("has 60 or more "+part.name, "carry them over, like 12° 30'")
		}
		plain = q.plain
		sum = sum.plus(q.val.over(ratioOf(part.per, 1)))
	}
	if t := r.peek(); t.kind != end {
		return 0, r.bad("is not an angle: "+quote(t.text)+" is left over", "write "+likeAngle)
	}
	return sum.float(), nil
}
