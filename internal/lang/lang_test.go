package lang

import "testing"

func TestSpanishReads(t *testing.T) {
	if _, err := Spanish(); err != nil {
		t.Fatal(err)
	}
}
