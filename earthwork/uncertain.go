package earthwork

import "github.com/martinlindhe/unit"

// Readings is a set of readings of one method whose errors can be tried out:
// [TotalReadings], [StringReadings], [RodReadings], [SlopeReadings] and
// [LevelReadings].
//
// Each reading is taken to be out independently of the others, by its accuracy
// at most nineteen times in twenty (95 %). What follows from the readings is
// then out by
//
//	√Σ dᵢ²
//
// at the same odds, dᵢ being what a full error of reading i alone makes of it:
// the usual first-order propagation of independent errors (ISO/IEC Guide 98-3,
// 5.1, from memory). It is as good as the result is straight over the size of
// the errors.
type Readings interface {
	Survey() (Survey, error)
	// Errors is the number of independent errors.
	Errors() int
	// With gives the readings with each of the errors applied: e[i] is the
	// i-th in units of its ±. Errors beyond the end of e are 0. Checks that
	// compare the readings with each other may fail on what it returns.
	With(e []float64) Readings
}

// off is the error of one kind of reading: e in units of ±a, or of the default.
func off(e []float64, i int, a unit.Length, other float64) unit.Length {
	if i >= len(e) {
		return 0
	}
	if a == 0 {
		a = unit.Length(other)
	}
	return unit.Length(e[i]) * a
}

// Errors implements [Readings]: the rise and the run.
func (r TotalReadings) Errors() int { return 2 }

// With implements [Readings].
func (r TotalReadings) With(e []float64) Readings {
	r.Rise += off(e, 0, r.Accuracy, 0.025)
	r.Run += off(e, 1, r.Accuracy, 0.025)
	return r
}

// Errors implements [Readings]: the tilt of the string, and the drop and the
// place of every reading.
func (r StringReadings) Errors() int { return 1 + 2*len(r.Readings) }

// With implements [Readings]. The whole string is raised by a metre, which
// changes no level and keeps small drops above nothing.
func (r StringReadings) With(e []float64) Readings {
	tilt := r.Tilt
	if tilt == 0 {
		tilt = defaultTilt
	}
	if len(e) > 0 {
		tilt *= e[0]
	} else {
		tilt = 0
	}
	out := make([]StringReading, len(r.Readings))
	for i, q := range r.Readings {
		q.Drop += unit.Meter + off(e, 1+2*i, r.Accuracy, defaultDropAccuracy) + unit.Length(tilt*float64(q.At))
		q.At += off(e, 2+2*i, r.AtAccuracy, defaultAtAccuracy)
		if q.At < 0 {
			// Only the distances between readings count; the first stays at 0.
			q.At = 0
		}
		out[i] = q
	}
	r.Readings = out
	return r
}

// Errors implements [Readings]: every rod reading and every place, blank cells
// included, which have no effect.
func (r RodReadings) Errors() int { return 4 * len(r.Readings) }

// With implements [Readings]. The misclose allowed is set aside, and so are the
// levels booked.
func (r RodReadings) With(e []float64) Readings {
	shift := func(l *unit.Length, d unit.Length) *unit.Length {
		if l == nil {
			return nil
		}
		x := *l + d
		return &x
	}
	out := make([]RodReading, len(r.Readings))
	for i, q := range r.Readings {
		q.Back = shift(q.Back, off(e, 4*i, r.Accuracy, defaultRodAccuracy))
		q.Mid = shift(q.Mid, off(e, 4*i+1, r.Accuracy, defaultRodAccuracy))
		q.Fore = shift(q.Fore, off(e, 4*i+2, r.Accuracy, defaultRodAccuracy))
		q.At = shift(q.At, off(e, 4*i+3, r.AtAccuracy, defaultAtAccuracy))
		q.Level = nil
		out[i] = q
	}
	r.Readings, r.PerSetup = out, unit.Meter
	return r
}

// Errors implements [Readings]: the length and the slope of every leg.
func (r SlopeReadings) Errors() int { return 2 * len(r.Readings) }

// With implements [Readings].
func (r SlopeReadings) With(e []float64) Readings {
	out := make([]SlopeReading, len(r.Readings))
	for i, q := range r.Readings {
		q.Length += off(e, 2*i, r.Accuracy, defaultLegAccuracy)
		turn := off(e, 2*i+1, unit.Length(r.AngleAccuracy.Radians()), defaultAngleAccuracy)
		if q.Grade == nil {
			q.Angle += unit.Angle(turn)
		} else {
			// d(tan θ) = (1 + tan²θ) dθ
			g := *q.Grade + float64((1+float64(*q.Grade**q.Grade))*float64(turn))
			q.Grade = &g
		}
		out[i] = q
	}
	r.Readings = out
	return r
}

// Errors implements [Readings]: the level and the station of every reading.
func (r LevelReadings) Errors() int { return 2 * len(r.Readings) }

// With implements [Readings].
func (r LevelReadings) With(e []float64) Readings {
	out := make([]LevelReading, len(r.Readings))
	for i, q := range r.Readings {
		q.Level += off(e, 2*i, r.Accuracy, 0.005)
		q.At += off(e, 2*i+1, r.AtAccuracy, defaultAtAccuracy)
		out[i] = q
	}
	r.Readings = out
	return r
}
