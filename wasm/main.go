//go:build js && wasm

// The calculator for JavaScript: the bytes of a request document in, the bytes
// of a result or error document out, and no logic besides. See
// [slopewright.Call] for the documents.
//
// Started by Go's wasm_exec.js, it sets two global functions and waits for
// calls:
//
//	slopewrightCall(request: Uint8Array): Uint8Array | Error
//	slopewrightWords(catalogue: Uint8Array): undefined | Error
//
// The second hands over the words of a language, the bytes of
// slopewright-es.txt; requests can ask for that language from then on. Either
// returns an Error when its argument is not one Uint8Array, the second also when
// the words will not do. A panic is not
// recovered here: the program stops, the Go runtime writes the trace to the
// console, and whoever started the program sees its run promise settle.
package main

import (
	"syscall/js"

	"github.com/slopewright/slopewright"
)

func main() {
	array := js.Global().Get("Uint8Array")
	fault := js.Global().Get("Error")
	var words *slopewright.Words
	var calls slopewright.Calls
	set := func(name, of string, answer func([]byte) any) {
		js.Global().Set(name, js.FuncOf(func(_ js.Value, args []js.Value) any {
			if len(args) != 1 || !args[0].InstanceOf(array) {
				return fault.New(name + " takes one Uint8Array: the bytes of " + of)
			}
			in := make([]byte, args[0].Length())
			js.CopyBytesToGo(in, args[0])
			return answer(in)
		}))
	}
	set("slopewrightCall", "a request document", func(request []byte) any {
		answer := calls.In(words, request)
		out := array.New(len(answer))
		js.CopyBytesToJS(out, answer)
		return out
	})
	set("slopewrightWords", "a catalogue of words", func(catalogue []byte) any {
		w, err := slopewright.ReadWords(catalogue)
		if err != nil {
			return fault.New(err.Error())
		}
		words = w
		return js.Undefined()
	})
	select {}
}
