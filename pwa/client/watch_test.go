package client_test

import (
	"strings"
	"testing"
	"time"

	"strutcard/sync/event"
	"strutcard/sync/fault"
)

const isAsked = "Are you all right?"

// tickOn lets time pass as the page does: a tick every 15 seconds.
func (b *bench) tickOn(d time.Duration) {
	b.t.Helper()
	const step = 15 * time.Second
	for ; d > 0; d -= step {
		b.clock.move(min(step, d))
		b.must("tick")
	}
}

func TestWatchAsks(t *testing.T) {
	b := newBench(t, raised(t)) // a minute after the last event
	b.tickOn(28*time.Minute + 45*time.Second)
	b.wantUnsaid(isAsked)
	b.tickOn(15 * time.Second)
	b.wantSaid(isAsked)
	if b.bell.rings != 1 {
		t.Fatalf("rang %d times, want once", b.bell.rings)
	}
	b.wantUnsaid("No answer")
	b.tickOn(time.Minute + 45*time.Second)
	b.wantUnsaid("No answer")
	if b.bell.rings != 1 {
		t.Errorf("rang %d times before two minutes were over, want once", b.bell.rings)
	}
	b.must("tally") // any other press is no answer
	b.wantSaid(isAsked)
	b.tickOn(15 * time.Second)
	b.wantSaid("No answer. Someone may be hurt")
	b.wantSaid("No emergency number was set")
	b.tickOn(30 * time.Second)
	if b.bell.rings != 4 {
		t.Errorf("rang %d times, want the first and then at every tick: 4", b.bell.rings)
	}
	b.press("I am all right")
	b.wantUnsaid(isAsked)
	b.tickOn(29 * time.Minute)
	b.wantUnsaid(isAsked)
	b.tickOn(time.Minute)
	b.wantSaid(isAsked)
}

func TestWatchHelp(t *testing.T) {
	b := newBench(t, raised(t))
	b.must("keep_watch", "who", "Uncle Bertil", "number", "+99 (0) 11-22")
	b.tickOn(30 * time.Minute)
	b.press("I need help")
	b.wantSaid("Then call: Uncle Bertil")
	if html := b.page.region("r-main"); !strings.Contains(html, `href="tel:+9901122"`) {
		t.Errorf("no link to call:\n%s", html)
	}
	if b.bell.rings != 2 {
		t.Errorf("rang %d times, want 2", b.bell.rings)
	}
}

func TestWatchSettings(t *testing.T) {
	t.Run("EveryTwenty", func(t *testing.T) {
		b := newBench(t, raised(t))
		b.must("ask_every", "minutes", "20")
		b.open() // kept on the phone
		b.tickOn(18 * time.Minute)
		b.wantUnsaid(isAsked)
		b.tickOn(time.Minute)
		b.wantSaid(isAsked)
	})
	t.Run("EveryFortyFive", func(t *testing.T) {
		b := newBench(t, raised(t))
		b.must("ask_every", "minutes", "45")
		b.tickOn(44 * time.Minute)
		b.wantUnsaid(isAsked)
		b.tickOn(time.Minute)
		b.wantSaid(isAsked)
	})
	t.Run("Off", func(t *testing.T) {
		b := newBench(t, raised(t))
		if err := b.act("ask_never", "reason", " "); !fault.Is(err, fault.Invalid) {
			t.Errorf("off without a reason = %v, want invalid", err)
		}
		b.must("ask_never", "reason", "two of us work here")
		b.tickOn(2 * time.Hour)
		b.wantUnsaid(isAsked)
		b.must("watch")
		b.wantSaid("Off: two of us work here")
		b.must("ask_every", "minutes", "30")
		b.tickOn(30 * time.Minute)
		b.wantSaid(isAsked)
	})
	t.Run("ErrOtherMinutes", func(t *testing.T) {
		b := newBench(t, raised(t))
		for _, minutes := range []string{"0", "600", "", "x"} {
			if err := b.act("ask_every", "minutes", minutes); !fault.Is(err, fault.Invalid) {
				t.Errorf("every %q minutes = %v, want invalid", minutes, err)
			}
		}
	})
	t.Run("ErrNumber", func(t *testing.T) {
		b := newBench(t, raised(t))
		for _, number := range []string{"1", "help", "112;x", "11+2", "1234567890123456", "javascript:1"} {
			if err := b.act("keep_watch", "number", number); !fault.Is(err, fault.Invalid) {
				t.Errorf("number %q = %v, want invalid", number, err)
			}
		}
	})
	t.Run("NeverInTheRecord", func(t *testing.T) {
		b := newBench(t, raised(t))
		b.must("keep_watch", "who", "Uncle Bertil", "number", "00 99 88")
		b.must("note", "text", "a note")
		b.must("export_all")
		for name, text := range b.page.files {
			if strings.Contains(text, "Bertil") || strings.Contains(text, "00 99 88") {
				t.Errorf("%s carries the name or the number", name)
			}
		}
		if len(b.page.files) == 0 {
			t.Error("nothing was exported: the test looked at nothing")
		}
		b.open()
		b.must("watch")
		for _, kept := range []string{`value="Uncle Bertil"`, `value="00 99 88"`} {
			if !strings.Contains(b.page.region("r-main"), kept) {
				t.Errorf("after a restart %s is gone", kept)
			}
		}
	})
}

func TestWatchRunsOnlyWhileUp(t *testing.T) {
	t.Run("OnItsWheels", func(t *testing.T) {
		b := newBench(t, fresh(t))
		b.tickOn(2 * time.Hour)
		b.wantUnsaid(isAsked)
	})
	t.Run("Parked", func(t *testing.T) {
		b := newBench(t, raised(t))
		b.must("park")
		b.tickOn(2 * time.Hour)
		b.wantUnsaid(isAsked)
	})
	t.Run("OnTheListOfJobs", func(t *testing.T) {
		b := newBench(t, raised(t))
		b.must("home")
		b.tickOn(30 * time.Minute)
		b.wantSaid(isAsked)
	})
	t.Run("CountsFromTheLastPress", func(t *testing.T) {
		b := newBench(t, raised(t))
		b.tickOn(20 * time.Minute)
		b.must("tally")
		b.tickOn(29 * time.Minute)
		b.wantUnsaid(isAsked)
		b.tickOn(time.Minute)
		b.wantSaid(isAsked)
	})
	t.Run("BeingRaised", func(t *testing.T) {
		j := fresh(t)
		for _, c := range j.Sheet.ChecksFor(event.Front, event.Raise) {
			if c.Lifts {
				break
			}
			j.Force(&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: c.ID, Answer: event.Yes})
		}
		b := newBench(t, j)
		b.tickOn(30 * time.Minute)
		b.wantSaid(isAsked)
	})
}

// TestWatchMissed: what fell due while the page was frozen or closed is asked
// when it is back, and says so.
func TestWatchMissed(t *testing.T) {
	for name, back := range map[string]func(b *bench){
		"Frozen": func(b *bench) { b.must("arrive") },
		"Closed": func(b *bench) { b.open() },
	} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t, raised(t))
			b.clock.move(50 * time.Minute)
			back(b)
			b.wantSaid(isAsked)
			b.wantSaid("This was due at")
			if b.bell.rings != 1 {
				t.Errorf("rang %d times, want once", b.bell.rings)
			}
			b.press("I am all right")
			b.wantSaid(isBack)
		})
	}
}

// TestWatchClockSetBack: it asks once, and then counts from the new time.
func TestWatchClockSetBack(t *testing.T) {
	b := newBench(t, raised(t))
	b.clock.move(-24 * time.Hour)
	b.must("tick")
	b.wantSaid(isAsked)
	b.press("I am all right")
	b.tickOn(29 * time.Minute)
	b.wantUnsaid(isAsked)
	b.tickOn(time.Minute)
	b.wantSaid(isAsked)
	b.clock.move(-24 * time.Hour) // while it is asked: nobody knows how long
	b.must("tick")
	b.wantSaid("No answer")
	b.press("I am all right")
	b.must("tick")
	b.wantUnsaid(isAsked)
}
