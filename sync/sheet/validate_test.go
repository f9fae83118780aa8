package sheet_test

import (
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
)

// TestErrValidate spoils one thing of a sound sheet at a time.
func TestErrValidate(t *testing.T) {
	type fastener = sheet.Fastener
	arm := func(s *sheet.Sheet) *fastener { return s.Fastener("arm_inner_RL") }
	final := func(s *sheet.Sheet) *sheet.Pass { return arm(s).Final() }
	step := func(s *sheet.Sheet, id event.StepID) *sheet.Step { return s.Step(id) }
	tests := map[string]struct {
		spoil func(*sheet.Sheet)
		want  string
	}{
		"older format":      {func(s *sheet.Sheet) { s.Format = 0 }, "format is 0"},
		"newer format":      {func(s *sheet.Sheet) { s.Format = 2 }, "format is 2"},
		"no title":          {func(s *sheet.Sheet) { s.Title = " " }, "title"},
		"no version":        {func(s *sheet.Sheet) { s.Version = "" }, "version"},
		"no vehicle":        {func(s *sheet.Sheet) { s.Vehicle.Name = "" }, "vehicle"},
		"no fasteners":      {func(s *sheet.Sheet) { s.Fasteners = nil }, "0 fasteners"},
		"501 fasteners":     {func(s *sheet.Sheet) { s.Fasteners = make([]fastener, 501) }, "501 fasteners"},
		"no steps":          {func(s *sheet.Sheet) { s.Stages = nil }, "0 steps"},
		"501 steps":         {func(s *sheet.Sheet) { s.Stages = []sheet.Stage{{ID: "all", Steps: make([]sheet.Step, 501)}} }, "501 steps"},
		"front share 1001":  {func(s *sheet.Sheet) { s.Vehicle.FrontShare = 1001 }, "share of the mass"},
		"front share below": {func(s *sheet.Sheet) { s.Vehicle.FrontShare = -1 }, "share of the mass"},

		"part id":            {func(s *sheet.Sheet) { s.Parts[0].ID = "left strut" }, `part id "left strut"`},
		"part twice":         {func(s *sheet.Sheet) { s.Parts[1].ID = s.Parts[0].ID }, "stands twice"},
		"part without count": {func(s *sheet.Sheet) { s.Parts[0].Count = 0 }, "no count"},
		"tool without id":    {func(s *sheet.Sheet) { s.Tools[0].ID = "" }, "tool id"},
		"tool twice":         {func(s *sheet.Sheet) { s.Tools[1].ID = s.Tools[0].ID }, "stands twice"},
		"check twice":        {func(s *sheet.Sheet) { s.Checks[1].ID = s.Checks[0].ID }, "stands twice"},
		"check asks nothing": {func(s *sheet.Sheet) { s.Checks[0].Ask = " " }, "does not say what it asks"},
		"check of no move":   {func(s *sheet.Sheet) { s.Checks[0].Move = "turn" }, "before which move"},
		"fastener twice":     {func(s *sheet.Sheet) { s.Fasteners[1].ID = s.Fasteners[0].ID }, "stands twice"},
		"fastener id":        {func(s *sheet.Sheet) { s.Fasteners[0].ID = event.FastenerID(strings.Repeat("x", 61)) }, "fastener id"},
		"step twice":         {func(s *sheet.Sheet) { s.Stages[0].Steps[1].ID = s.Stages[0].Steps[0].ID }, "stands twice"},
		"step id":            {func(s *sheet.Sheet) { s.Stages[0].Steps[0].ID = "the box" }, `step id "the box"`},

		"no place":            {func(s *sheet.Sheet) { arm(s).Place = "" }, `"arm_inner_RL" has no place`},
		"no corner":           {func(s *sheet.Sheet) { arm(s).Corner = "rl" }, "no corner"},
		"count 0":             {func(s *sheet.Sheet) { arm(s).Count = 0 }, "impossible count"},
		"count 101":           {func(s *sheet.Sheet) { arm(s).Count = 101 }, "impossible count"},
		"no final pass":       {func(s *sheet.Sheet) { arm(s).Passes = arm(s).Passes[:1] }, "no final pass"},
		"pass twice":          {func(s *sheet.Sheet) { arm(s).Passes[1].ID = arm(s).Passes[0].ID }, "two passes of one name"},
		"pass without a name": {func(s *sheet.Sheet) { arm(s).Passes[0].ID = "" }, "two passes of one name"},
		"unknown kind":        {func(s *sheet.Sheet) { arm(s).Passes[0].Kind = "hard" }, `unknown kind "hard"`},
		"part without share":  {func(s *sheet.Sheet) { s.Fastener("wheel_nuts_FL").Pass("half").Share = 0 }, "which share"},
		"part of all":         {func(s *sheet.Sheet) { s.Fastener("wheel_nuts_FL").Pass("half").Share = 1000 }, "which share"},
		"angle beyond two turns": {func(s *sheet.Sheet) {
			arm(s).Passes = append(arm(s).Passes, sheet.Pass{ID: "turn", Kind: sheet.Angle, AngleMdeg: 720_001, Car: sheet.AtRide})
		}, "720 degrees"},
		"negative torque":            {func(s *sheet.Sheet) { final(s).TorqueCNM = -1 }, "outside 0 to 2,000"},
		"torque above 2,000 N·m":     {func(s *sheet.Sheet) { final(s).TorqueCNM = 200_001 }, "outside 0 to 2,000"},
		"torque without source":      {func(s *sheet.Sheet) { arm(s).Source = " " }, "no source"},
		"tolerance as wide":          {func(s *sheet.Sheet) { final(s).TolCNM = final(s).TorqueCNM }, "tolerance as wide"},
		"negative tolerance":         {func(s *sheet.Sheet) { final(s).TolCNM = -1 }, "tolerance"},
		"bush clamped in the air":    {func(s *sheet.Sheet) { final(s).Car = sheet.Up }, "at ride height"},
		"bush clamped on wheels":     {func(s *sheet.Sheet) { final(s).Car = sheet.OnWheels }, "at ride height"},
		"bush clamped anywhere":      {func(s *sheet.Sheet) { final(s).Car = sheet.Anywhere }, "at ride height"},
		"unknown state of the car":   {func(s *sheet.Sheet) { s.Fastener("link_RL").Final().Car = "flying" }, `"flying"`},
		"waits for a step not there": {func(s *sheet.Sheet) { final(s).After = []event.StepID{"dream"} }, `step "dream"`},

		"step without title":    {func(s *sheet.Sheet) { step(s, "box").Title = "" }, `"box" does not say`},
		"step without work":     {func(s *sheet.Sheet) { step(s, "box").Do = " " }, "what to do"},
		"raise without axle":    {func(s *sheet.Sheet) { step(s, "raise_step_front").Axle = "" }, "name its axle"},
		"work up without axle":  {func(s *sheet.Sheet) { step(s, "free_FL").Axle = "" }, "name its axle"},
		"needs a later step":    {func(s *sheet.Sheet) { step(s, "box").Needs = []event.StepID{"specs"} }, "does not come before"},
		"needs itself":          {func(s *sheet.Sheet) { step(s, "specs").Needs = []event.StepID{"specs"} }, "does not come before"},
		"loosens nothing known": {func(s *sheet.Sheet) { step(s, "free_FL").Loosen[0] = "dream" }, `fastener "dream"`},
		"fits nothing known":    {func(s *sheet.Sheet) { step(s, "wheels_front").Fit[0] = "dream" }, `fastener "dream"`},
		"pass of no fastener":   {func(s *sheet.Sheet) { step(s, "nuts_front").Passes[0].Fastener = "dream" }, `fastener "dream"`},
		"pass not there":        {func(s *sheet.Sheet) { step(s, "nuts_front").Passes[0].Pass = "dream" }, `pass "dream"`},
		"reading at no corner":  {func(s *sheet.Sheet) { step(s, "heights_set").Readings[0].Corner = "" }, "without a corner"},
		"reading for nothing":   {func(s *sheet.Sheet) { step(s, "heights_set").Readings[0].Purpose = "after" }, "but not whether as found"},
		"tool not there":        {func(s *sheet.Sheet) { step(s, "heights_set").Tools[0] = "dream" }, `tool "dream"`},

		"never fitted":              {func(s *sheet.Sheet) { step(s, "arm_close_RL").Fit = step(s, "arm_close_RL").Fit[1:] }, "No step fits"},
		"adjuster's nut never made": {func(s *sheet.Sheet) { step(s, "toe_final").Passes = nil }, "No step makes pass"},
		"adjuster's nut needs the ground": {func(s *sheet.Sheet) {
			f := s.Fastener("track_rod_lock_FL")
			f.Passes = f.Passes[1:]
			f.Passes[0].Car = sheet.OnWheels
			refs := &step(s, "toe_final").Passes
			*refs = (*refs)[1:]
		}, "could never be lowered"},
		"standing for no adjuster": {func(s *sheet.Sheet) { s.Fastener("track_rod_lock_FL").Holds = "" }, "No step fits"},
		"never final":              {func(s *sheet.Sheet) { step(s, "finals_RL").Passes = step(s, "finals_RL").Passes[1:] }, "No step makes pass"},
		"never lowered":            {func(s *sheet.Sheet) { step(s, "lower_step_rear").Move = "" }, "an axle is up by then"},
		"held up for ever":         {func(s *sheet.Sheet) { arm(s).Passes[0].Car = sheet.AtRide }, "could never be lowered"},
		"drives in the air":        {func(s *sheet.Sheet) { step(s, "free_FL").Drive = true }, "drives while an axle is still up"},
		"rolled in the air":        {func(s *sheet.Sheet) { step(s, "free_FL").Settle = true }, "rolls the car while an axle is up"},
		"raised twice":             {func(s *sheet.Sheet) { step(s, "free_FL").Move = event.Raise }, "while an axle is up already"},
		"lowered when down":        {func(s *sheet.Sheet) { step(s, "settle").Move, step(s, "settle").Axle = event.Lower, event.Front }, "which is not up"},
		"loosened at last":         {func(s *sheet.Sheet) { step(s, "finals_RL").Loosen = []event.FastenerID{"arm_inner_RL"} }, "has loosened it"},
		"measured too late":        {func(s *sheet.Sheet) { s.Order, step(s, "heights_set").Readings[0].Purpose = nil, event.Before }, "as found, after something was loosened"},
		"noted too late": {func(s *sheet.Sheet) {
			step(s, "spring_in_RL").Positions = []sheet.PositionAsk{{Adjuster: event.Camber, Corner: event.RL, Purpose: event.Before}}
		}, "adjuster stood as found"},
		"settled by nobody": {func(s *sheet.Sheet) { step(s, "settle").Settle = false }, "needs the car settled"},
		"camber before height": {func(s *sheet.Sheet) {
			step(s, "camber_final").Readings = append(step(s, "camber_final").Readings, sheet.ReadingAsk{Quantity: event.Camber, Corner: event.FL, Purpose: event.Setting})
			step(s, "toe_final").Adjust = event.RideHeight
		}, "comes before"},
		"order of nothing":  {func(s *sheet.Sheet) { s.Order[0].Then = "speed" }, "does not name two readings"},
		"order without why": {func(s *sheet.Sheet) { s.Order[0].Why = " " }, "does not say why"},

		"picture not known":       {func(s *sheet.Sheet) { step(s, "box").Picture = "rocket" }, "rocket"},
		"question twice":          {func(s *sheet.Sheet) { step(s, "settle").Checks[1].ID = step(s, "settle").Checks[0].ID }, "two questions"},
		"question at no time":     {func(s *sheet.Sheet) { step(s, "settle").Checks[0].When = "" }, "when it asks"},
		"question asks nothing":   {func(s *sheet.Sheet) { step(s, "settle").Checks[0].Ask = "" }, "asks nothing"},
		"question without a stop": {func(s *sheet.Sheet) { step(s, "settle").Checks[0].Stop = "" }, "what to do on a no"},
		"question at no corner":   {func(s *sheet.Sheet) { step(s, "round").Checks[0].Corner = "XX" }, "unknown corner"},
		"check without a stop":    {func(s *sheet.Sheet) { s.Checks[0].Stop = " " }, "what to do on a no"},
		"check of no axle":        {func(s *sheet.Sheet) { s.Checks[0].Axle = "third" }, "unknown axle"},
		"photo twice":             {func(s *sheet.Sheet) { step(s, "photos_before").Photos[1].ID = step(s, "photos_before").Photos[0].ID }, "two pictures"},
		"photo of nothing":        {func(s *sheet.Sheet) { step(s, "photos_before").Photos[0].What = "" }, "what picture"},
		"photo at no time":        {func(s *sheet.Sheet) { step(s, "photos_before").Photos[0].When = "soon" }, "when it asks for picture"},
		"position of nothing": {func(s *sheet.Sheet) {
			step(s, "box").Positions = []sheet.PositionAsk{{Adjuster: event.Thrust, Corner: event.FL, Purpose: event.Before}}
		}, "nothing on the car sets"},
		"position at no corner": {func(s *sheet.Sheet) {
			step(s, "box").Positions = []sheet.PositionAsk{{Adjuster: event.Camber, Purpose: event.Before}}
		}, "without a corner"},
		"position at the end": {func(s *sheet.Sheet) {
			step(s, "box").Positions = []sheet.PositionAsk{{Adjuster: event.Camber, Corner: event.FL, Purpose: event.Final}}
		}, "as found or as set"},
		"clicks at no corner": {func(s *sheet.Sheet) { step(s, "box").Clicks = []sheet.ClicksAsk{{Purpose: event.Before}} }, "without a corner"},
		"clicks of no knob": {func(s *sheet.Sheet) {
			step(s, "box").Clicks = []sheet.ClicksAsk{{Corner: event.FL, Knob: "both", Purpose: event.Before}}
		}, "unknown knob"},
		"clicks at the end": {func(s *sheet.Sheet) {
			step(s, "box").Clicks = []sheet.ClicksAsk{{Corner: event.FL, Purpose: event.Final}}
		}, "as found or as set"},
		"unknown move":  {func(s *sheet.Sheet) { step(s, "free_FL").Move = "sideways" }, "unknown move"},
		"unknown state": {func(s *sheet.Sheet) { step(s, "box").Car = "flying" }, "unknown state"},

		"part without a name":    {func(s *sheet.Sheet) { s.Parts[0].Name = " " }, "has no name"},
		"part at no corner":      {func(s *sheet.Sheet) { s.Parts[0].Corner = "XX" }, "unknown corner"},
		"part at no axle":        {func(s *sheet.Sheet) { s.Parts[0].Corner, s.Parts[0].Axle = "", "third" }, "unknown axle"},
		"part at two axles":      {func(s *sheet.Sheet) { s.Parts[0].Corner, s.Parts[0].Axle = event.FL, event.Rear }, "the other axle"},
		"tool without a name":    {func(s *sheet.Sheet) { s.Tools[0].Name = "" }, "has no name"},
		"tool of no kind":        {func(s *sheet.Sheet) { s.Tools[0].Kind = "magic" }, "unknown kind"},
		"point for nothing":      {func(s *sheet.Sheet) { s.Vehicle.Points[0].Use = "winch" }, "neither jack nor stand"},
		"point at no axle":       {func(s *sheet.Sheet) { s.Vehicle.Points[0].Axle = "" }, "unknown axle"},
		"point nowhere":          {func(s *sheet.Sheet) { s.Vehicle.Points[0].Place = " " }, "where it is"},
		"points without source":  {func(s *sheet.Sheet) { s.Vehicle.Source = "" }, "no source"},
		"target of nothing":      {func(s *sheet.Sheet) { s.Targets[0].Quantity = "speed" }, "names no reading"},
		"target said by nobody":  {func(s *sheet.Sheet) { s.Targets[0].Confirmed = " " }, "by whom"},
		"damper of no axle":      {func(s *sheet.Sheet) { s.Dampers[0].Axle = "" }, "names no axle"},
		"damper of no knob":      {func(s *sheet.Sheet) { s.Dampers[0].Knob = "both" }, "unknown knob"},
		"damper from nowhere":    {func(s *sheet.Sheet) { s.Dampers[0].From = "" }, "end stop"},
		"damper stop counts 2":   {func(s *sheet.Sheet) { s.Dampers[0].StopCounts = 2 }, "0 or 1"},
		"damper 101 clicks":      {func(s *sheet.Sheet) { s.Dampers[0].Clicks = 101 }, "outside 0 to 100"},
		"damper beyond all":      {func(s *sheet.Sheet) { s.Dampers[0].Total, s.Dampers[0].Clicks = 8, 9 }, "more clicks"},
		"damper without source":  {func(s *sheet.Sheet) { s.Dampers[0].Source = "" }, "no source"},
		"damper twice":           {func(s *sheet.Sheet) { s.Dampers = append(s.Dampers, s.Dampers[0]) }, "preset twice"},
		"perch of no axle":       {func(s *sheet.Sheet) { s.Perches[0].Axle = "" }, "names no axle"},
		"perch from nowhere":     {func(s *sheet.Sheet) { s.Perches[0].From = "" }, "measured from"},
		"perch of no length":     {func(s *sheet.Sheet) { s.Perches[0].UM = 0 }, "outside 0 to 1,000 mm"},
		"perch without source":   {func(s *sheet.Sheet) { s.Perches[0].Source = "" }, "no source"},
		"perch twice":            {func(s *sheet.Sheet) { s.Perches = append(s.Perches, s.Perches[0]) }, "preset twice"},
		"turned by a hammer":     {func(s *sheet.Sheet) { arm(s).Turn = "hammer" }, "neither nut nor bolt"},
		"holds the radio":        {func(s *sheet.Sheet) { arm(s).Holds = "radio" }, "nothing on the car sets"},
		"re-check after minus 1": {func(s *sheet.Sheet) { arm(s).Recheck = -1 }, "checked again after"},
		"pass confirmed by none": {func(s *sheet.Sheet) { final(s).Confirmed = " " }, "by whom"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			s := sheet.Demo()[0]
			test.spoil(s)
			err := s.Validate()
			if !fault.Is(err, fault.Invalid) {
				t.Fatalf("got %v, want an %s fault", err, fault.Invalid)
			}
			if f := fault.Of(err); !strings.Contains(f.Message, test.want) || f.Hint == "" {
				t.Errorf("got %q (hint %q), want %q in it", f.Message, f.Hint, test.want)
			}
			if _, err := sheet.Decode(s.Encode()); !fault.Is(err, fault.Invalid) {
				t.Errorf("the spoiled sheet can be loaded: %v", err)
			}
		})
	}
}

func TestErrDecode(t *testing.T) {
	sound := string(sheet.Demo()[0].Encode())
	tests := map[string]struct {
		data string
		kind fault.Kind
	}{
		"empty":              {"", fault.Invalid},
		"a web page":         {"<html>", fault.Invalid},
		"null":               {"null", fault.Invalid},
		"unknown field":      {strings.Replace(sound, `"title"`, `"colour":"red","title"`, 1), fault.Invalid},
		"torque as a float":  {strings.Replace(sound, `"torque_cnm":11200`, `"torque_cnm":112.5`, 1), fault.Invalid},
		"torque in words":    {strings.Replace(sound, `"torque_cnm":11200`, `"torque_cnm":"112 Nm"`, 1), fault.Invalid},
		"something after it": {sound + "{}", fault.Invalid},
		"cut off":            {sound[:len(sound)-1], fault.Invalid},
		"too large":          {sound + strings.Repeat(" ", sheet.MaxBytes), fault.TooLarge},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			if test.data == sound {
				t.Fatal("the test spoils nothing")
			}
			_, err := sheet.Decode([]byte(test.data))
			if !fault.Is(err, test.kind) || fault.Of(err).Hint == "" {
				t.Errorf("got %v, want a %s fault with a hint", err, test.kind)
			}
		})
	}
	if _, err := sheet.Decode([]byte(sound + " \n")); err != nil {
		t.Errorf("white space after the sheet: %v", err)
	}
}

// TestHashSeesEverything: no change of a sheet keeps its hash.
func TestHashSeesEverything(t *testing.T) {
	seen := map[event.SheetHash]string{sheet.Demo()[0].Hash(): "as it is"}
	for name, change := range map[string]func(*sheet.Sheet){
		"title": func(s *sheet.Sheet) { s.Title += "." }, "torque": func(s *sheet.Sheet) { s.Fasteners[0].Final().TorqueCNM++ },
		"check": func(s *sheet.Sheet) { s.Checks[0].Must = false }, "step": func(s *sheet.Sheet) { s.Steps()[0].Why += "." },
		"target": func(s *sheet.Sheet) { s.Targets[0].TolMdeg++ }, "tool": func(s *sheet.Sheet) { s.Tools[0].Must = false },
	} {
		s := sheet.Demo()[0]
		change(s)
		if other, there := seen[s.Hash()]; there {
			t.Errorf("%s has the hash of %s", name, other)
		}
		seen[s.Hash()] = name
	}
}
