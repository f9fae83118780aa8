package browser

import (
	"context"
	"encoding/json"
	"fmt"
	"runtime/debug"
	"syscall/js"

	"strutcard/pwa/client"
	"strutcard/sync/fault"
)

// App is what the page drives.
type App interface {
	Start(ctx context.Context) error
	Act(ctx context.Context, name string, args map[string]string) error
	Input(ctx context.Context, key, value string)
}

// Run exports the app as the global strutcard and serves calls until one of
// them panics. A program that panicked may hold half a change in memory, so it
// ends, and the page starts a fresh one from the log.
func Run(app App) {
	s := &seam{app: app, queue: make(chan func(), 256), broken: make(chan struct{}, 1)}
	js.Global().Set("strutcard", js.ValueOf(map[string]any{
		"start": s.export(s.start),
		"act":   s.export(s.act),
		"input": s.export(s.input),
	}))
	go s.work()
	<-s.broken
}

type seam struct {
	app    App
	queue  chan func()
	broken chan struct{}
}

// work carries out calls in order, so that a press sees what was typed before it.
func (s *seam) work() {
	for do := range s.queue {
		do()
	}
}

// export wraps a callback: it recovers, and it never blocks.
func (s *seam) export(f func(args []js.Value) any) js.Func {
	return js.FuncOf(func(_ js.Value, args []js.Value) (result any) {
		defer func() {
			if r := recover(); r != nil {
				s.fail(r)
			}
		}()
		return f(args)
	})
}

func (s *seam) start([]js.Value) any {
	return s.promise(s.enqueue, func() error { return s.app.Start(context.Background()) })
}

func (s *seam) act(args []js.Value) any {
	name, given := text(args[0]), text(args[1])
	run := s.enqueue
	if client.Waits(name) {
		run = func(do func()) bool { go do(); return true }
	}
	return s.promise(run, func() error {
		var values map[string]string
		if err := json.Unmarshal([]byte(given), &values); err != nil {
			return fmt.Errorf("read arguments of %q: %w", name, err)
		}
		return s.app.Act(context.Background(), name, values)
	})
}

func (s *seam) input(args []js.Value) any {
	key, value := text(args[0]), text(args[1])
	return s.promise(s.enqueue, func() error {
		s.app.Input(context.Background(), key, value)
		return nil
	})
}

// enqueue reports whether there was room; a callback must not wait for it.
func (s *seam) enqueue(do func()) bool {
	select {
	case s.queue <- do:
		return true
	default:
		return false
	}
}

// promise runs do and gives the page a promise of its reply.
func (s *seam) promise(run func(func()) bool, do func() error) any {
	var resolve js.Value
	executor := js.FuncOf(func(_ js.Value, args []js.Value) any {
		resolve = args[0]
		return nil
	})
	defer executor.Release()
	promise := js.Global().Get("Promise").New(executor)
	if !run(func() { resolve.Invoke(reply(s.guard(do))) }) {
		resolve.Invoke(reply(fault.New(fault.Busy, "The app has not caught up yet. This press was not taken.", "Wait a moment, then press again.")))
	}
	return promise
}

// guard turns a panic into an error and the end of the program.
func (s *seam) guard(do func() error) (err error) {
	defer func() {
		if r := recover(); r != nil {
			s.fail(r)
			err = fmt.Errorf("panic: %v", r)
		}
	}()
	return do()
}

func (s *seam) fail(reason any) {
	js.Global().Get("console").Call("error", fmt.Sprintf("strutcard stopped: %v\n%s", reason, debug.Stack()))
	select {
	case s.broken <- struct{}{}:
	default:
	}
}

func reply(err error) string {
	type message struct {
		OK      bool   `json:"ok"`
		Message string `json:"message,omitempty"`
		Hint    string `json:"hint,omitempty"`
	}
	m := message{OK: err == nil}
	if f := fault.Of(err); f != nil {
		m.Message, m.Hint = f.Message, f.Hint
	}
	text, _ := json.Marshal(m) // a struct of strings always marshals
	return string(text)
}
