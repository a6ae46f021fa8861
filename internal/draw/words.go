package draw

import (
	"reflect"
	"strings"
)

// In gives words ([Words], [DetailWords] or [FrameWords]) each as say says it.
func In[T any](words T, say func(string) string) T {
	v := reflect.ValueOf(&words).Elem()
	for i := range v.NumField() {
		if f := v.Field(i); f.Kind() == reflect.String {
			f.SetString(say(f.String()))
		}
	}
	return words
}

// comma writes a text of figures and a point with a comma.
func comma(s string) string {
	number, _, _ := strings.Cut(s, " ") // 0.5, or 0.5 m
	if strings.Trim(number, "0123456789−-") == "." {
		return strings.Replace(s, ".", ",", 1)
	}
	return s
}
