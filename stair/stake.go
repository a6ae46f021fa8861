package stair

import "github.com/martinlindhe/unit"

// Mark is one line of the stake-out table: what a builder needs to set one
// riser out. Every length is measured from its own datum and rounded once, so
// that rounding never adds up from step to step; differences between rounded
// marks may therefore vary by one unit of the rounding.
type Mark struct {
	_        [0]func()   // not comparable, which spares code: see DEVELOPERS.md
	Riser    int         `json:"riser"`
	Kind     Kind        `json:"kind"`
	Landing  bool        `json:"landing,omitempty"` // a landing lies behind it
	Station  unit.Length `json:"station"`           // of the riser's face, from the datum of the stations
	FromFoot unit.Length `json:"from_foot"`         // horizontal, from the foot
	FromHead unit.Length `json:"from_head"`         // horizontal, from the head
	Level    unit.Length `json:"level"`             // finished top of the riser, from the datum of the levels
	Base     unit.Length `json:"base"`              // finished surface at the bottom of the riser, from the same datum
	Up       unit.Length `json:"up"`                // top of the riser above the foot
	Drop     unit.Length `json:"drop"`              // top of the riser below the head
}

// StakeOut gives the setting-out table, riser by riser from the foot. round is
// applied to every length once: to the printed fraction of an inch, say. nil
// rounds nothing.
func (l Layout) StakeOut(round func(unit.Length) unit.Length) []Mark {
	if round == nil {
		round = func(x unit.Length) unit.Length { return x }
	}
	marks := make([]Mark, len(l.Steps))
	for i, s := range l.Steps {
		marks[i] = Mark{
			Riser: s.Riser, Kind: s.Kind, Landing: s.Landing,
			Station:  round(s.Station),
			FromFoot: round(s.Station - l.Foot.Station),
			FromHead: round(l.Head.Station - s.Station),
			Level:    round(s.Level),
			Base:     round(l.Surface(s.Riser - 1).At(s.Station)),
			Up:       round(s.Level - l.Foot.Level),
			Drop:     round(l.Head.Level - s.Level),
		}
	}
	return marks
}
