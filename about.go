package slopewright

import (
	"strings"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/materials"
	"github.com/slopewright/slopewright/stair"
)

func about() About {
	return About{
		Format: AboutFormat, Version: Version,
		Rules: ruleChoices(), Soils: soilChoices(), Sections: sectionChoices(), Items: itemChoices(),
	}
}

func ruleChoices() []Choice {
	var out []Choice
	for _, r := range stair.RuleSets() {
		out = append(out, Choice{ID: r.ID, Name: r.Name, Applies: r.Applies})
	}
	return out
}

func soilChoices() []Choice {
	var out []Choice
	for _, s := range earthwork.Soils() {
		out = append(out, Choice{ID: s.ID, Name: s.Name})
	}
	return out
}

// sectionChoices are the timbers; bars are for pins.
func sectionChoices() []Choice {
	var out []Choice
	for _, s := range materials.Sections() {
		if !s.Round {
			out = append(out, Choice{ID: s.Name, Name: s.Name})
		}
	}
	return out
}

// sections names them, those of the plan's own measure first.
func (m *maker) sections() string {
	var lists [2]string
	for _, c := range sectionChoices() {
		i := 0
		if materials.InInches(c.ID) != m.inInches() {
			i = 1
		}
		lists[i] += ", " + c.ID
	}
	return strings.TrimPrefix(lists[0]+lists[1], ", ")
}

func itemChoices() []Choice {
	var out []Choice
	for _, id := range materials.Items() {
		out = append(out, Choice{ID: id, Name: itemName(id)})
	}
	return out
}

// ids lists the ids of choices for a message.
func ids(list []Choice) []string {
	out := make([]string, len(list))
	for i, c := range list {
		out[i] = c.ID
	}
	return out
}
