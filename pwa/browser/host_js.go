package browser

import (
	"context"
	"fmt"
	"syscall/js"
	"time"

	"strutcard/pwa/client"
	"strutcard/sync/fault"
)

// Host is the browser as the client's platform.
type Host struct{}

var _ client.Platform = Host{}

// defaultTimeout bounds a request whose context sets no deadline.
const defaultTimeout = 30 * time.Second

// Paint implements client.Platform.
func (Host) Paint(regions map[string]string) {
	object := make(map[string]any, len(regions))
	for id, html := range regions {
		object[id] = html
	}
	tell("paint", object)
}

// HTTP implements client.Platform.
func (Host) HTTP(ctx context.Context, method, path string, body []byte, token string) (int, string, []byte, error) {
	timeout := defaultTimeout
	if deadline, ok := ctx.Deadline(); ok {
		timeout = max(time.Until(deadline), time.Millisecond)
	}
	promise, err := call(host(), "http", method, path, bytesOut(body), token, float64(timeout.Milliseconds()))
	if err != nil {
		return 0, "", nil, unreachable(err)
	}
	reply, err := await(ctx, promise)
	if err != nil {
		return 0, "", nil, unreachable(err)
	}
	return reply.Get("status").Int(), text(reply.Get("type")), bytesIn(reply.Get("body")), nil
}

func unreachable(err error) error {
	return fault.Wrap(fmt.Errorf("request: %w", err), fault.Unreachable, "The server could not be reached. Nothing is lost: the record is on this phone.",
		"Go on working. It is sent when there is a signal.")
}

// Env implements client.Platform.
func (Host) Env() client.Env {
	env, err := call(host(), "env")
	if err != nil {
		return client.Env{MemoryOnly: true}
	}
	is := func(name string) bool { return env.Get(name).Truthy() }
	return client.Env{
		Online:       is("online"),
		Standalone:   is("standalone"),
		Persisted:    is("persisted"),
		OfflineReady: is("offlineReady"),
		UpdateReady:  is("updateReady"),
		MemoryOnly:   text(env.Get("storage")) != "indexeddb",
		Leader:       is("leader"),
		Install:      text(env.Get("install")),
	}
}

// Remember implements client.Platform.
func (Host) Remember(key, value string) { tell("remember", key, value) }

// Recall implements client.Platform.
func (Host) Recall(key string) string {
	value, err := call(host(), "recall", key)
	if err != nil {
		return ""
	}
	return text(value)
}

// Persist implements client.Platform.
func (Host) Persist() { tell("persist") }

// Print implements client.Platform.
func (Host) Print() { tell("print") }

// Install implements client.Platform.
func (Host) Install() { tell("install") }

// Wake implements client.Platform.
func (Host) Wake(on bool) { tell("wake", on) }

// Alarm implements client.Platform.
func (Host) Alarm() { tell("alarm") }

// ApplyUpdate implements client.Platform.
func (Host) ApplyUpdate() { tell("applyUpdate") }

// Words implements client.Platform.
func (Host) Words(ctx context.Context, tag string) (string, string, error) {
	promise, err := call(host(), "words", tag)
	if err != nil {
		return "", "", err
	}
	reply, err := await(ctx, promise)
	if err != nil {
		return "", "", err
	}
	return text(reply.Get("tag")), text(reply.Get("words")), nil
}

// Theme implements client.Platform.
func (Host) Theme(name string) { tell("theme", name) }

// Download implements client.Platform.
func (Host) Download(name, mediaType, text string) { tell("download", name, mediaType, text) }

// tell asks the page for a favour. What goes wrong there is for the console:
// none of these carries a promise to the person.
func tell(method string, args ...any) {
	if _, err := call(host(), method, args...); err != nil {
		js.Global().Get("console").Call("error", err.Error())
	}
}

func bytesOut(body []byte) js.Value {
	if body == nil {
		return js.Null()
	}
	array := js.Global().Get("Uint8Array").New(len(body))
	js.CopyBytesToJS(array, body)
	return array
}

func bytesIn(array js.Value) []byte {
	if array.Type() != js.TypeObject {
		return nil
	}
	body := make([]byte, array.Get("length").Int())
	js.CopyBytesToGo(body, array)
	return body
}
