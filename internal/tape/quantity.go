package tape

import (
	"strconv"
	"strings"
)

// quantities are the units that those of a document's field can be written in, with their
// sizes: a row for each unit of fields, which is the first. The sizes are from the foot of
// 0.3048 m and the pound of 0.45359237 kg, both exact, and the US gallon of 231 in³ (NIST
// Special Publication 811, appendix B).
var quantities = [...]string{
	"kg/m3 1 lb/ft3 16.018463373960138 lb/yd3 0.5932764212577829 t/m3 1000",
	"m3/h 1 yd3/h 0.764554857984 ft3/h 0.028316846592",
	"m2/h 1 ft2/h 0.09290304 yd2/h 0.83612736",
	"m3 1 ft3 0.028316846592 yd3 0.764554857984 l 0.001",
	"m/min 1 ft/min 0.3048",
	"m2/l 1 ft2/gal 0.02454238674711116",
	"h/m 1 h/ft 3.280839895013123",
}

// unitWords are words and signs of units, without an s at their ends, in rows; the first of
// a row stands for the others.
const unitWords = ",/,per,a,an,por,|,h,hr,hour,hora,|,min,minute,minuto,|,lb,pound,libra,|,kg,kilo,|,t,tonne,tonelada,|,ft,foot,feet,pie,|" +
	",yd,yard,yarda,|,m,metre,meter,metro,|,gal,gallon,galón,galone,|,l,litre,liter,litro,|,3,cúbico,cúbica,|,2,cuadrado,cuadrada,"

// Units are the units that quantities of a field's unit can be written in, each with its
// size behind it; the field's is the first.
func Units(unit string) []string {
	for _, row := range quantities {
		if all := strings.Fields(row); all[0] == unit {
			return all
		}
	}
	return nil
}

// ParseQuantity reads a number with one of the units that there are for a field's, and
// reports whether it is one: 105 lb/cu ft is 1682 kg/m3.
func ParseQuantity(text, unit string) (float64, bool) {
	text = strings.TrimSpace(text)
	end := 0
	for end < len(text) && strings.IndexByte("0123456789.,-", text[end]) >= 0 {
		end++
	}
	figure := text[:end]
	if at := strings.IndexByte(figure, ','); at >= 0 && len(figure)-at != 4 { // which may part thousands
		figure = figure[:at] + "." + figure[at+1:]
	}
	x, err := strconv.ParseFloat(figure, 64)
	all, name := Units(unit), Unit(text[end:])
	for i := 0; i < len(all); i += 2 {
		if all[i] == name && err == nil && x > -1e9 && x < 1e9 {
			by, _ := strconv.ParseFloat(all[i+1], 64)
			return x * by, true
		}
	}
	return 0, false
}

// Unit is a unit as it is said in signs: cu. yd. per hour is yd3/h.
func Unit(text string) string {
	text = strings.ToLower(text)
	for _, x := range [...]string{"/ / ", ".  ", "²2", "³3"} {
		n := 1
		if x[0] > 0x7f {
			n = 2
		}
		text = strings.ReplaceAll(text, x[:n], x[n:])
	}
	out, power := "", ""
	for _, word := range strings.Fields(text) {
		switch word {
		case "cu", "cubic":
			power = "3"
			continue
		case "sq", "square":
			power = "2"
			continue
		}
		bare := strings.TrimRight(word, "23")
		if at := strings.Index(unitWords, ","+strings.TrimSuffix(bare, "s")+","); at >= 0 {
			row := unitWords[strings.LastIndexByte(unitWords[:at+1], '|')+1:]
			word = row[1:1+strings.IndexByte(row[1:], ',')] + word[len(bare):]
		}
		out, power = out+word+power, ""
	}
	return out
}

// CutSign takes the sign or the code of a currency off an amount, before it or behind.
func CutSign(text string) (sign, rest string) {
	rest = strings.TrimLeft(text, "$€£ABCDEFGHIJKLMNOPQRSTUVWXYZ")
	sign = text[:len(text)-len(rest)]
	if sign == "" {
		rest = strings.TrimRight(text, "$€£ABCDEFGHIJKLMNOPQRSTUVWXYZ")
		sign = text[len(rest):]
	}
	if sign == "$" || sign == "€" || sign == "£" || len(sign) == 3 && sign[0] < 0x7f {
		return sign, strings.TrimSpace(rest)
	}
	return "", text
}
