package event_test

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"strutcard/sync/event"
	"strutcard/sync/fault"
)

// samples holds payloads of every kind that between them set every field, so
// that a round trip proves each.
var samples = []event.Payload{
	&event.JobOpened{Sheet: event.SheetHash(strings.Repeat("ab", 32)), Title: "Kit <&> é", Vehicle: "the blue one"},
	&event.PartCounted{Part: "spring", Found: 2, Damaged: 1, Note: "dented"},
	&event.ToolListed{Tool: "wrench", Have: true, Label: "long one", LowCNM: 2000, HighCNM: 20000, RatingG: 2_000_000, Checked: "last spring",
		Type: "adapter", Pair: true, Class: "A", Tolerance: 40, LengthUM: 420_000, Across: true},
	&event.SpecGiven{Fastener: "arm_RL", Pass: "final", TorqueCNM: 9400, AngleMdeg: 90_000, Source: "manual, page 12", Questioned: "high for M10", Confirmed: true},
	&event.ReadingTaken{Quantity: event.RideHeight, Corner: event.FL, Purpose: event.Setting, Method: "tape", Formula: "gap/1", Load: "half a tank",
		ValueUM: 355_000, ValueMD: -1500, U95UM: 1000, U95Mdeg: 120, GapUM: 9000, SpanUM: 400_000, ResUM: 500, GapAt: "top", Along: "rim"},
	&event.ReadingTaken{Quantity: event.TotalToe, Axle: event.Front, Purpose: event.Final, Method: "toe_edges", Formula: "toe-edges/1", Instrument: "tape", Load: "empty",
		ValueMD: 150, U95Mdeg: 60, ValueG: 1, U95G: 1, ValuePa: 1, U95Pa: 1, Inputs: []event.Input{{Name: "front", Text: "1480", Unit: "mm"}}, Takes: []int64{140, 160}},
	&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: "eyes", Answer: event.Override, Reason: "visor instead"},
	&event.CarRaised{Axle: event.Front},
	&event.CarLowered{Axle: event.Rear},
	&event.StepStarted{Step: "free_FL"},
	&event.StepDone{Step: "free_FL"},
	&event.StepSkipped{Step: "camber_before", Reason: "no level"},
	&event.FastenerLoosened{Fastener: "arm_RL"},
	&event.FastenerFitted{Fastener: "arm_RL", Renewed: true},
	&event.PassDone{Fastener: "arm_RL", Pass: "final", TorqueCNM: 9400, AngleMdeg: 90_000, SetCNM: 8800, Wrench: "wrench", Count: 2, Adapter: "crowfoot", Hurried: true},
	&event.FastenerMarked{Fastener: "arm_RL"},
	&event.AdjustmentMade{Quantity: event.Camber, Corner: event.RR, Before: "mark 3", After: "mark 4", Unit: "graduation", Position: -2000},
	&event.DamperSet{Corner: event.RL, From: "full_hard", Clicks: 9, StopCount: 1, Total: 22, Purpose: event.Before, Knob: "rebound"},
	&event.StepChecked{Step: "free_FL", Check: "hub_held", Answer: event.Override, Reason: "strap and block"},
	&event.StepReopened{Step: "free_FL", Reason: "the strut came out again"},
	&event.PhotoTaken{Step: "free_FL", Photo: "camber_bolt", SHA256: strings.Repeat("0f", 32), Bytes: 700_000, Width: 1600, Height: 1200, Caption: "as found"},
	&event.PhotoLeftOut{Step: "free_FL", Photo: "camber_bolt", Reason: "lens is broken"},
	&event.PositionNoted{Adjuster: event.RideHeight, Corner: event.RL, Purpose: event.Before, Text: "14 threads", LengthUM: 21_000},
	&event.LeftoversCounted{Step: "look_over", Count: 1, Note: "an M8 nut"},
	&event.WorkParked{Note: "rain"},
	&event.WorkResumed{AsLeft: true, Note: "a chock had moved"},
	&event.WithdrawalSeen{Reason: "agreed with the shop by phone"},
	&event.NoteAdded{Step: "free_FL", Text: "“tight” \u2028 <b>&"},
	&event.HoldAsked{Step: "look_over"},
	&event.HoldReleased{Step: "look_over", By: "mentor", Reason: "seen by picture", Done: "01900000-0000-7000-8000-000000000003"},
	&event.Corrected{Event: "01900000-0000-7000-8000-000000000001", Reason: "wrong corner"},
	&event.JobFinished{Note: "all well"},
	&event.CommentAdded{Step: "free_FL", Fastener: "arm_RL", Reading: "01900000-0000-7000-8000-000000000002", Name: "the mentor", Text: "hold the hub up"},
	&event.FindingRaised{Step: "free_FL", Fastener: "arm_RL", Severity: "ask", Name: "the shop", Text: "the hose looks twisted", Proof: "00ff"},
	&event.DecisionMade{Finding: "a1b2", Decision: event.Redo, Step: "free_FL", Fastener: "arm_RL", Name: "the shop", Text: "torque it again", Proof: "00ff"},
}

// seal makes the first event of a chain from a payload.
func seal(t testing.TB, p event.Payload) event.Event {
	t.Helper()
	e, err := event.Chain{Job: jobID, Device: deviceA}.Seal(id(1), time.UnixMilli(1_790_000_000_000), p)
	if err != nil {
		t.Fatalf("seal %s: %v", p.Kind(), err)
	}
	return e
}

func TestRoundTripOfEveryKind(t *testing.T) {
	set := map[event.Kind]map[string]bool{}
	for _, want := range samples {
		if set[want.Kind()] == nil {
			set[want.Kind()] = map[string]bool{}
		}
		fields(t, reflect.ValueOf(want).Elem(), set[want.Kind()])
		t.Run(string(want.Kind()), func(t *testing.T) {
			sealed := seal(t, want)
			got, err := event.Decode([]byte(sealed.Line()))
			if err != nil {
				t.Fatalf("decode own line: %v", err)
			}
			if !reflect.DeepEqual(got, sealed) || !reflect.DeepEqual(got.Payload(), want) {
				t.Errorf("round trip\n got %#v\nwant %#v", got.Payload(), want)
			}
		})
	}
	for _, k := range event.Kinds() {
		if len(set[k]) == 0 {
			t.Errorf("kind %s has no sample", k)
		}
		for field, is := range set[k] {
			if !is {
				t.Errorf("no sample of %s sets %s", k, field)
			}
		}
	}
}

// fields notes which fields a value sets, and fails on one that has no name on
// the wire or is a float: floats differ between processors.
func fields(t *testing.T, v reflect.Value, set map[string]bool) {
	t.Helper()
	for i := range v.NumField() {
		f := v.Type().Field(i)
		set[f.Name] = set[f.Name] || !v.Field(i).IsZero()
		if f.Tag.Get("json") == "" {
			t.Errorf("%s has no name on the wire", f.Name)
		}
		kind := f.Type.Kind()
		if kind == reflect.Slice {
			kind = f.Type.Elem().Kind()
		}
		switch kind {
		case reflect.String, reflect.Int64, reflect.Bool:
		case reflect.Struct:
			for j := range v.Field(i).Len() {
				fields(t, v.Field(i).Index(j), set)
			}
		default:
			t.Errorf("%s is a %s; only strings, int64, bool, and lists of them or of structs of them go on the wire", f.Name, f.Type)
		}
	}
}

func TestErrPayload(t *testing.T) {
	long := strings.Repeat("x", 201)
	endless := strings.Repeat("x", 4001)
	tests := map[string]struct {
		p    event.Payload
		want string // part of the message
	}{
		"sheet is no hash":            {&event.JobOpened{Sheet: "ab", Title: "t", Vehicle: "v"}, "sheet"},
		"sheet hash in capitals":      {&event.JobOpened{Sheet: event.SheetHash(strings.Repeat("AB", 32)), Title: "t", Vehicle: "v"}, "sheet"},
		"no title":                    {&event.JobOpened{Sheet: event.SheetHash(strings.Repeat("ab", 32)), Title: " ", Vehicle: "v"}, "title"},
		"no vehicle":                  {&event.JobOpened{Sheet: event.SheetHash(strings.Repeat("ab", 32)), Title: "t"}, "vehicle"},
		"part without id":             {&event.PartCounted{Found: 1}, "part"},
		"negative count":              {&event.PartCounted{Part: "p", Found: -1}, "count"},
		"more damaged than found":     {&event.PartCounted{Part: "p", Found: 1, Damaged: 2}, "damaged"},
		"endless part note":           {&event.PartCounted{Part: "p", Note: endless}, "note"},
		"wrench range upside down":    {&event.ToolListed{Tool: "w", Have: true, LowCNM: 5, HighCNM: 4}, "lowest"},
		"wrench above the limit":      {&event.ToolListed{Tool: "w", Have: true, HighCNM: 200_001}, "highest"},
		"negative rating":             {&event.ToolListed{Tool: "w", RatingG: -1}, "rating"},
		"tool without id":             {&event.ToolListed{Have: true}, "tool"},
		"spec without a number":       {&event.SpecGiven{Fastener: "f", Pass: "p", Source: "s"}, "neither"},
		"spec without a source":       {&event.SpecGiven{Fastener: "f", Pass: "p", TorqueCNM: 1, Source: " "}, "source"},
		"spec with negative torque":   {&event.SpecGiven{Fastener: "f", Pass: "p", TorqueCNM: -1, Source: "s"}, "torque"},
		"spec above 2,000 N·m":        {&event.SpecGiven{Fastener: "f", Pass: "p", TorqueCNM: 200_001, Source: "s"}, "torque"},
		"spec beyond two turns":       {&event.SpecGiven{Fastener: "f", Pass: "p", AngleMdeg: 720_001, Source: "s"}, "angle"},
		"reading at no corner":        {&event.ReadingTaken{Quantity: event.Camber, Purpose: event.Before, Method: "m"}, "corner"},
		"reading of nothing known":    {&event.ReadingTaken{Quantity: "noise", Corner: event.FL, Purpose: event.Before, Method: "m"}, "noise"},
		"total toe at a corner":       {&event.ReadingTaken{Quantity: event.TotalToe, Corner: event.FL, Purpose: event.Before, Method: "m"}, "axle"},
		"camber of an axle":           {&event.ReadingTaken{Quantity: event.Camber, Axle: event.Front, Purpose: event.Before, Method: "m"}, "corner"},
		"toe in minutes":              {&event.ReadingTaken{Quantity: event.Toe, Corner: event.FL, Purpose: event.Before, Method: "m", ValueMD: 10_001}, "toe"},
		"weight in kilograms":         {&event.ReadingTaken{Quantity: event.CornerWeight, Corner: event.FL, Purpose: event.Before, Method: "m", ValueG: 350}, "weight"},
		"pressure in bar":             {&event.ReadingTaken{Quantity: event.TyrePressure, Corner: event.FL, Purpose: event.Before, Method: "m", ValuePa: 2}, "pressure"},
		"input without a name":        {&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Before, Method: "m", Inputs: []event.Input{{Text: "9"}}}, "input"},
		"too many takes":              {&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Before, Method: "m", Takes: make([]int64, 51)}, "takes"},
		"too many inputs":             {&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Before, Method: "m", Inputs: inputs(41)}, "inputs"},
		"height in millimetres":       {&event.ReadingTaken{Quantity: event.RideHeight, Corner: event.FL, Purpose: event.Before, Method: "m", ValueUM: 355}, "height"},
		"camber in minutes":           {&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Before, Method: "m", ValueMD: 15_001}, "camber"},
		"reading for no purpose":      {&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Method: "m"}, "purpose"},
		"reading by no method":        {&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Before}, "method"},
		"negative uncertainty":        {&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Before, Method: "m", U95Mdeg: -1}, "uncertainty"},
		"gap at the side":             {&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Before, Method: "m", GapAt: "side"}, "gap end"},
		"span along the floor":        {&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Before, Method: "m", Along: "floor"}, "span direction"},
		"check of no axle":            {&event.CheckAnswered{Move: event.Raise, Check: "c", Answer: event.Yes}, "axle"},
		"check of no move":            {&event.CheckAnswered{Axle: event.Front, Check: "c", Answer: event.Yes}, "move"},
		"check without id":            {&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Answer: event.Yes}, "check"},
		"answer maybe":                {&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: "c", Answer: "maybe"}, "answer"},
		"override without reason":     {&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: "c", Answer: event.Override, Reason: " "}, "reason"},
		"raised nowhere":              {&event.CarRaised{}, "axle"},
		"lowered in the middle":       {&event.CarLowered{Axle: "middle"}, "axle"},
		"started no step":             {&event.StepStarted{}, "step"},
		"done no step":                {&event.StepDone{}, "step"},
		"skipped without reason":      {&event.StepSkipped{Step: "s"}, "reason"},
		"loosened nothing":            {&event.FastenerLoosened{}, "fastener"},
		"fitted nothing":              {&event.FastenerFitted{}, "fastener"},
		"fastener name too long":      {&event.FastenerFitted{Fastener: event.FastenerID(long)}, "longer than 200"},
		"marked nothing":              {&event.FastenerMarked{}, "fastener"},
		"pass without name":           {&event.PassDone{Fastener: "f", Count: 1}, "pass"},
		"pass of none":                {&event.PassDone{Fastener: "f", Pass: "p"}, "count"},
		"pass with negative torque":   {&event.PassDone{Fastener: "f", Pass: "p", TorqueCNM: -1, Count: 1}, "torque"},
		"pass with absurd setting":    {&event.PassDone{Fastener: "f", Pass: "p", SetCNM: 200_001, Count: 1}, "wrench setting"},
		"adjusted at no corner":       {&event.AdjustmentMade{Quantity: event.Camber, After: "a"}, "corner"},
		"adjusted nothing known":      {&event.AdjustmentMade{Quantity: "noise", Corner: event.FL, After: "a"}, "quantity"},
		"load at one corner":          {&event.AdjustmentMade{Quantity: event.Load, Corner: event.FL, After: "a"}, "corner"},
		"adjusted by furlongs":        {&event.AdjustmentMade{Quantity: event.Toe, Corner: event.FL, After: "a", Unit: "furlong"}, "unit"},
		"adjusted too far":            {&event.AdjustmentMade{Quantity: event.Toe, Corner: event.FL, After: "a", Unit: "mm", Position: 1_000_001}, "position"},
		"adjusted to nowhere":         {&event.AdjustmentMade{Quantity: event.Camber, Corner: event.FL}, "position after"},
		"damper at no corner":         {&event.DamperSet{From: "full_hard"}, "corner"},
		"damper from the middle":      {&event.DamperSet{Corner: event.FL, From: "middle"}, "end stop"},
		"damper with -1 clicks":       {&event.DamperSet{Corner: event.FL, From: "full_soft", Clicks: -1}, "clicks"},
		"damper stop counted twice":   {&event.DamperSet{Corner: event.FL, From: "full_soft", StopCount: 2}, "stop count"},
		"empty note":                  {&event.NoteAdded{Step: "s"}, "text"},
		"endless note":                {&event.NoteAdded{Text: endless}, "longer than 4000"},
		"held at no step":             {&event.HoldAsked{}, "step"},
		"released by nobody":          {&event.HoldReleased{Step: "s", By: "cousin", Reason: "r"}, "releaser"},
		"released without a reason":   {&event.HoldReleased{Step: "s", By: "mentor"}, "reason"},
		"corrected nothing":           {&event.Corrected{Event: "that one", Reason: "r"}, "not named"},
		"corrected without a reason":  {&event.Corrected{Event: id(1)}, "reason"},
		"finished with endless words": {&event.JobFinished{Note: endless}, "note"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			_, err := event.Chain{Job: jobID, Device: deviceA}.Seal(id(1), time.UnixMilli(1), test.p)
			refused(t, err, test.want)
		})
	}
}

// TestErrWords: a refused value is named, with what is taken in the unit that people
// read, and nothing but the value is blamed.
func TestErrWords(t *testing.T) {
	for want, p := range map[string]event.Payload{
		"Its torque is outside 0 N·m to 2000 N·m.":               &event.SpecGiven{Fastener: "f", Pass: "p", Source: "page 1", TorqueCNM: 200_001},
		"Its rating is outside 0 kg to 100000 kg.":               &event.ToolListed{Tool: "t", RatingG: 100_000_001},
		"Its tolerance is outside 0 % to 50 %.":                  &event.ToolListed{Tool: "t", Tolerance: 501},
		"Its ride height is outside 50 mm to 1500 mm.":           &event.ReadingTaken{Quantity: event.RideHeight, Corner: event.FL, Purpose: event.Before, Method: "m", ValueUM: 1},
		"Its camber is outside -15° to 15°.":                     &event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Before, Method: "m", ValueMD: 15_001},
		"Its tyre pressure, cold is outside 50 kPa to 1000 kPa.": &event.ReadingTaken{Quantity: event.TyrePressure, Corner: event.FL, Purpose: event.Before, Method: "m", ValuePa: 1},
		"Its position is outside -1000 to 1000.":                 &event.AdjustmentMade{Quantity: event.Camber, Corner: event.FL, After: "a", Unit: "mm", Position: 1_000_001},
		"Its count is outside 0 to 10000.":                       &event.PartCounted{Part: "p", Found: 10_001},
	} {
		_, err := event.Chain{Job: "01900000-0000-7000-8000-000000000001", Device: "01900000-0000-7000-8000-000000000002"}.Seal(id(3), time.UnixMilli(1), p)
		refused(t, err, "That was not recorded. "+want+" Nothing was changed.")
	}
}

func inputs(n int) []event.Input {
	out := make([]event.Input, n)
	for i := range out {
		out[i].Name = "i"
	}
	return out
}

// refused wants a fault fit to show, with a hint, that names what is wrong.
func refused(t *testing.T, err error, want string) {
	t.Helper()
	if !fault.Is(err, fault.Invalid) {
		t.Fatalf("got %v, want an %s fault", err, fault.Invalid)
	}
	f := fault.Of(err)
	if !strings.Contains(f.Message, want) || f.Hint == "" {
		t.Errorf("got %q (hint %q), want %q in it", f.Message, f.Hint, want)
	}
}

func TestCorner(t *testing.T) {
	for _, axle := range event.Axles {
		for _, c := range axle.Corners() {
			if c.Axle() != axle || !c.Valid() || !strings.HasPrefix(c.Words(), string(axle)) {
				t.Errorf("corner %s of the %s axle: axle %s, words %q", c, axle, c.Axle(), c.Words())
			}
		}
	}
	if event.Corner("fl").Valid() || event.Axle("").Valid() {
		t.Error("an unknown corner or axle is called valid")
	}
}
