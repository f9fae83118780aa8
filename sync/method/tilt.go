package method

import (
	"fmt"
	"strconv"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/tilt"
	"strutcard/sync/event"
)

var tiltMethods = []Method{camberPhone, phoneLevel}

// PhoneLevel is what makes this phone a level: the sign its browser gives to
// gravity, and its own offset.
type PhoneLevel struct {
	Convention  tilt.Convention  `json:"convention"`
	Calibration tilt.Calibration `json:"calibration"`
}

// thisPhone names the phone in its own calibration, which never leaves it.
const thisPhone = "this phone"

var (
	coverField = Field{Name: "cover", Label: "The phone is", Kind: Choice, Keep: true,
		Options: []Option{{string(tilt.Bare), "without a case"}, {string(tilt.Covered), "in its case"}}}
	edgeOptions = []Option{{string(tilt.LeftEdge), "left"}, {string(tilt.RightEdge), "right"}}
)

// phoneLevel calibrates the phone: three placements.
var phoneLevel = Method{
	ID: "phone_level", Group: Floor, Title: "Make this phone a level",
	Words: "First lay the phone on its back. Then hold it upright against a door frame, the right long edge on it; turn it round, the left long edge on the same spot. Good for a day.",
	Fields: []Field{
		coverField,
		{Name: "flat", Label: "On its back, screen up", Hint: "Read it lying flat", Kind: Samples},
		{Name: "first", Label: "Upright, right long edge on the frame", Hint: "Read it upright", Kind: Samples},
		{Name: "second", Label: "Turned round, left long edge on the same spot", Hint: "Read it turned round", Kind: Samples},
	},
	Work: func(in *In) (Result, error) {
		flat, first, second, cover := in.Samples("flat"), in.Samples("first"), in.Samples("second"), in.Choice("cover")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		sign, err := tilt.DetectConvention(flat, tilt.Screen)
		if err != nil {
			return Result{}, err
		}
		got, err := tilt.Calibrate(tilt.Flip{First: recording(first, sign), Second: recording(second, sign), Side: tilt.RightEdge, Up: tilt.Top,
			Setup: tilt.Setup{Phone: thisPhone, Cover: tilt.Cover(cover)}, AtMS: in.NowMS})
		if err != nil {
			return Result{}, err
		}
		u := in.Units
		return Result{Figure: in.angle(got.Calibration.Offset), Words: lang.T("This is what the phone itself is off. It is taken away from every reading until tomorrow."),
			Line: fmt.Sprintf("(%s + %s) ÷ 2 = %s", u.FormatAngle(got.First), u.FormatAngle(got.Second), u.FormatAngle(got.Calibration.Offset.Value)),
			Rows: []Row{{lang.T("The frame leans"), in.angle(got.Surface)}}, Ask: tilt.QuestionFlip(got),
			Level: &PhoneLevel{Convention: sign, Calibration: got.Calibration}}, nil
	},
}

// camberPhone is the phone's long edge on the rim.
var camberPhone = Method{
	ID: "camber_phone", Group: Camber, Title: "This phone as a level", Sets: event.Camber,
	Words: "Hold the phone upright, top end up, a long edge on the rim at the top and at the bottom or on a straight edge across it. Never on the bulge of the tyre.",
	Fields: []Field{
		{Name: "wheel", Label: "The wheel is on the", Kind: Choice, Options: []Option{{string(tilt.LeftWheel), "left"}, {string(tilt.RightWheel), "right"}}},
		{Name: "edge", Label: "The edge on the wheel, looking at the screen", Kind: Choice, Keep: true, Options: edgeOptions},
		{Name: "faces", Label: "The screen looks to the", Kind: Choice, Keep: true, Options: []Option{{string(tilt.ToFront), "front of the car"}, {string(tilt.ToRear), "rear of the car"}}},
		{Name: "leans", Label: "Look first: the top of the wheel leans", Kind: Choice, Options: []Option{{string(tilt.In), "in"}, {string(tilt.Out), "out"}, {string(tilt.Unclear), "cannot tell"}}},
		coverField,
		{Name: "samples", Label: "Hold still while it reads", Hint: "Read the phone", Kind: Samples},
	},
	Fill: func(r Record) map[string]string {
		side := map[event.Corner]tilt.Wheel{event.FL: tilt.LeftWheel, event.RL: tilt.LeftWheel, event.FR: tilt.RightWheel, event.RR: tilt.RightWheel}
		return map[string]string{"wheel": string(side[r.At.Corner()])}
	},
	Work: func(in *In) (Result, error) {
		held := tilt.Held{Wheel: tilt.Wheel(in.Choice("wheel")), Edge: tilt.Side(in.Choice("edge")), Faces: tilt.Facing(in.Choice("faces")), TopLeans: tilt.Lean(in.Choice("leans"))}
		cover, samples := tilt.Cover(in.Choice("cover")), in.Samples("samples")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		if in.Level == nil {
			return Result{}, quantity.Inputf("Open “Make this phone a level” among the calculators. Until then type the angle of another gauge.", "This phone was not yet made a level: it does not know which way is up.")
		}
		held.Placement = tilt.Placement{Recording: recording(samples, in.Level.Convention), Setup: tilt.Setup{Phone: thisPhone, Cover: cover}, NowMS: in.NowMS}
		warn := lang.T("Not calibrated today: the phone itself may be off by 3°. Make it a level again for a narrow answer.")
		if c := in.Level.Calibration; !c.Stale(in.NowMS) && c.Setup.Cover == cover {
			held.Placement.Calibration, warn = &in.Level.Calibration, ""
		}
		rise, err := tilt.Camber(held)
		if err != nil {
			return Result{}, err
		}
		return phoneResult(in, rise, held, warn), nil
	},
}

func phoneResult(in *In, rise tilt.Rise, held tilt.Held, warn string) Result {
	u := in.Units
	out := camberResult(in, rise.Angle, tilt.FormulaCamber, kept("this phone, "+string(held.Placement.Setup.Cover)+", %s samples", strconv.Itoa(len(held.Placement.Recording.Samples))))
	out.Line = lang.F("%s shown − %s of the phone itself = %s", u.FormatAngle(rise.Shown), u.FormatAngle(rise.Offset.Value), u.FormatAngle(rise.Angle.Value))
	out.Rows = []Row{{lang.T("Phone turned aside"), u.FormatAngle(size(rise.Across))}}
	if out.Ask == "" {
		out.Ask = tilt.QuestionCamber(rise, held.TopLeans)
	}
	if warn != "" {
		out.Warn = append([]string{warn}, out.Warn...)
	}
	out.Picture = phonePicture(in, rise.Angle.Value)
	return out
}

// phonePicture is the wheel from the front with the phone on its outer face.
func phonePicture(in *In, value quantity.Angle) *Picture {
	p := &Picture{Height: 215, Note: lang.F("Lean drawn %d times as large.", exaggeration),
		Alt: lang.F("The wheel seen from the front, the phone's long edge on its outer face. %s", leanWords(value))}
	bottom, top := wheel(p, 150, max(-20, min(20, value.Degrees()*exaggeration)))
	low, high := bottom+(top-bottom)*0.25, bottom+(top-bottom)*0.75
	p.Outline("heavy", low, 142, low-12, 142, high-12, 88, high, 88)
	p.Line("dashed", high-24, 60, high-24, 170)
	p.Label("end", high-32, 80, lang.T("plumb"))
	p.Label("start", 230, 60, in.Units.FormatAngle(value))
	p.Small("start", 230, 110, lang.T("car this side"))
	p.Small("start", 230, 125, "→")
	return p
}

func recording(samples []tilt.Sample, sign tilt.Convention) tilt.Recording {
	return tilt.Recording{Samples: samples, Convention: sign, Resolution: tilt.StepSeen(samples)}
}

// Samples reads a recording: "x,y,z,t;…" in whole thousandths of a metre per
// second squared along the phone's axes, and whole milliseconds.
func (in *In) Samples(name string) []tilt.Sample {
	return read(in, name, parseSamples)
}

func parseSamples(text string) ([]tilt.Sample, error) {
	var out []tilt.Sample
	for _, part := range strings.Split(text, ";") {
		var v [4]int64
		fields := strings.Split(part, ",")
		for i, field := range fields {
			n, err := strconv.ParseInt(field, 10, 64)
			if err != nil || len(fields) != len(v) || n > 1e9 || n < -1e9 {
				return nil, quantity.Inputf("Press the button again, and hold still.", "What the sensor gave cannot be read.")
			}
			v[i] = n
		}
		mms := func(n int64) quantity.Acceleration { return quantity.MetresPerSecondSquared(float64(n) / 1000) }
		out = append(out, tilt.Sample{X: mms(v[0]), Y: mms(v[1]), Z: mms(v[2]), AtMS: v[3]})
	}
	return out, nil
}
