//go:build js && wasm

// The calculator for JavaScript: the bytes of a request document in, the bytes
// of a result or error document out, and no logic besides. See
// [slopewright.Call] for the documents.
//
// Started by Go's wasm_exec.js, it sets one global function and waits for
// calls:
//
//	slopewrightCall(request: Uint8Array): Uint8Array | Error
//
// It returns an Error when its argument is not one Uint8Array. A panic is not
// recovered here: the program stops, the Go runtime writes the trace to the
// console, and whoever started the program sees its run promise settle.
package main

import (
	"syscall/js"

	"github.com/slopewright/slopewright"
)

func main() {
	bytes := js.Global().Get("Uint8Array")
	fault := js.Global().Get("Error")
	js.Global().Set("slopewrightCall", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) != 1 || !args[0].InstanceOf(bytes) {
			return fault.New("slopewrightCall takes one Uint8Array: the bytes of a request document")
		}
		request := make([]byte, args[0].Length())
		js.CopyBytesToGo(request, args[0])
		answer := slopewright.Call(request)
		out := bytes.New(len(answer))
		js.CopyBytesToJS(out, answer)
		return out
	}))
	select {}
}
