package browser

import (
	"context"
	"fmt"
	"syscall/js"
)

// rejection is a JavaScript error that reached Go.
type rejection struct{ name, message string }

func (r *rejection) Error() string { return r.name + ": " + r.message }

// host returns the page's side of the seam. Where there is none every call of it
// fails: in WebKit a page that was left goes on for a moment, and its global object is
// then the next page's.
func host() js.Value {
	if host := js.Global().Get("host"); host.Truthy() {
		return host
	}
	return js.ValueOf(map[string]any{})
}

// call invokes a method and turns what it throws into an error.
func call(on js.Value, method string, args ...any) (result js.Value, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("call %s: %v", method, r)
		}
	}()
	return on.Call(method, args...), nil
}

// await waits for a promise on this goroutine; the event loop goes on. When ctx
// ends first the promise still runs, and its outcome is dropped.
func await(ctx context.Context, promise js.Value) (js.Value, error) {
	type outcome struct {
		value js.Value
		err   error
	}
	done := make(chan outcome, 1)
	var onValue, onError js.Func
	settle := func(o outcome) {
		done <- o
		onValue.Release()
		onError.Release()
	}
	onValue = js.FuncOf(func(_ js.Value, args []js.Value) any {
		settle(outcome{value: first(args)})
		return nil
	})
	onError = js.FuncOf(func(_ js.Value, args []js.Value) any {
		settle(outcome{err: rejected(first(args))})
		return nil
	})
	if _, err := call(promise, "then", onValue, onError); err != nil {
		onValue.Release()
		onError.Release()
		return js.Undefined(), err
	}
	select {
	case o := <-done:
		return o.value, o.err
	case <-ctx.Done():
		return js.Undefined(), ctx.Err()
	}
}

func first(args []js.Value) js.Value {
	if len(args) == 0 {
		return js.Undefined()
	}
	return args[0]
}

func rejected(reason js.Value) error {
	if reason.Type() != js.TypeObject {
		return &rejection{"Error", reason.String()}
	}
	return &rejection{text(reason.Get("name")), text(reason.Get("message"))}
}

// text reads a string; anything else is "".
func text(v js.Value) string {
	if v.Type() != js.TypeString {
		return ""
	}
	return v.String()
}
