package torque_test

import (
	"strings"
	"testing"

	"strutcard/calc/quantity"
	"strutcard/calc/torque"
)

func TestCheckPasses(t *testing.T) {
	for _, good := range []string{"final 40", "snug 0; final 40", "snug 27; angle 60; angle 30", "final 40; angle 90", "part 64.5; final 129; repeat 0; repeat 0", "snug 150; back_off -180; snug 50; angle 720", "final 40; back_off -90; final 30"} {
		if err := torque.CheckPasses(passes(good)); err != nil {
			t.Errorf("%s: got error %v, want none", good, err)
		}
	}
	bad := map[string]string{
		"None": "", "Unknown": "loose 3", "SnugOnly": "snug 20", "PartOnly": "part 20", "NoTorque": "final 0", "BelowZero": "final -40",
		"AngleAlone": "angle 90", "AngleByHand": "snug 0; angle 90", "AngleZero": "snug 20; angle 0", "AngleBackwards": "snug 20; angle -90", "AngleLong": "snug 20; angle 721",
		"AngleAfterBackOff": "snug 20; back_off -90; angle 90", "BackOffForward": "snug 20; back_off 90; final 40", "BackOffFirst": "back_off -90; final 40",
		"BackOffTwice": "snug 20; back_off -90; back_off -90; final 40", "BackOffLast": "final 40; back_off -90", "BackOffLong": "final 40; back_off -721; final 40",
		"RepeatFirst": "repeat 0", "RepeatAngle": "snug 20; angle 90; repeat 0", "RepeatNumber": "final 40; repeat 40", "RepeatAfterBackOff": "final 40; back_off -90; repeat 0; final 40",
		"Mixed": "snug 20; angle 90; final 40", "Falling": "part 60; final 40", "SnugAfterFinal": "final 40; snug 40; final 50", "PartAfterFinal": "final 40; part 50; final 60",
	}
	for name, list := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			in := passes(list)
			if list == "" {
				in = nil
			}
			checkInput(t, torque.CheckPasses(in))
			if got, ok := torque.FinalTorque(in); got != 0 || ok {
				t.Errorf("got a final torque of %v, want none", got)
			}
		})
	}
	for name, p := range map[string]torque.Pass{
		"TorqueWithAngle": {Kind: torque.Final, Torque: 40, Angle: 1}, "AngleWithTorque": {Kind: torque.AngleOn, Torque: 40, Angle: 1}, "RepeatWithAngle": {Kind: torque.Repeat, Angle: 1},
		"TorqueNaN": {Kind: torque.Final, Torque: quantity.Torque(nan)}, "AngleNaN": {Kind: torque.AngleOn, Angle: quantity.Angle(nan)}, "BackOffInf": {Kind: torque.BackOff, Angle: quantity.Angle(-inf)},
	} {
		t.Run("Err"+name, func(t *testing.T) {
			checkInput(t, torque.CheckPasses([]torque.Pass{{Kind: torque.Final, Torque: 20}, p, {Kind: torque.Final, Torque: 50}}))
		})
	}
	if _, err := torque.Flats(quantity.Angle(inf)); err == nil {
		t.Error("got flats of an endless angle, want an error")
	}
}

func TestPassWords(t *testing.T) {
	for want, p := range map[string]torque.Pass{
		"by hand":                    {Kind: torque.Snug},
		"Seat it to 27 N·m":          {Kind: torque.Snug, Torque: 27},
		"64.5 N·m on the way":        {Kind: torque.Part, Torque: 64.5},
		"Tighten to 129 N·m.":        {Kind: torque.Final, Torque: 129},
		"on by 60°, 1 flat of a":     {Kind: torque.AngleOn, Angle: quantity.Degrees(60)},
		"on by 90°, 1.5 flats of a":  {Kind: torque.AngleOn, Angle: quantity.Degrees(90)},
		"Loosen by 180°, 3 flats of": {Kind: torque.BackOff, Angle: quantity.Degrees(-180)},
		"once more":                  {Kind: torque.Repeat},
		"not a number":               {Kind: torque.AngleOn, Angle: quantity.Angle(nan)},
	} {
		if got := p.Words(quantity.NewtonMetre); !strings.Contains(got, want) {
			t.Errorf("got %q, want %q in it", got, want)
		}
	}
	if got := (torque.Pass{Kind: "loose"}).Words(quantity.NewtonMetre); got != "" {
		t.Errorf("got %q for an unknown kind, want nothing", got)
	}
}
