package templates

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
)

// sketch is one line drawing: 320 units wide, X to the right, Y downwards. Cars
// seen from the side have their front to the left.
type sketch struct {
	high int
	alt  string // what it shows and what matters
	draw func(p *pen)
}

// sketches are the drawings that a step of a fitting sheet can name.
var sketches = map[string]sketch{
	"stands":       {212, "Car from the side, front axle up. A stand under the sill on each side, at the points that the car's maker names. Both rear wheels stand on the ground with a chock touching the tyre in front and behind. Nobody is under the car while only a jack holds it.", drawStands},
	"chocks":       {180, "A wheel on the ground with one chock in front and one behind, both touching the tyre. Beside it the car from above: both wheels of the axle that stays down are chocked, four chocks in all.", drawChocks},
	"wheel_nuts":   {190, "Hub with five nuts, tightened across: every second nut next. Beside it the same in section: wheel flat against the clean hub, the nut's cone centred in its seat.", drawNuts},
	"strut":        {236, "Front corner seen from the end of the car. The strut stands between the top mount in the body and the knuckle, with the spring round it. The brake hose is held in a bracket on the strut. The drive shaft goes through the knuckle, the lower arm holds it from below. Unclip the hose before the strut comes away.", drawStrut},
	"spring_arm":   {240, "Rear corner seen from the end of the car. The spring stands on the lower arm, the damper stands apart from it. A jack holds the arm's outer end before damper or arm is undone: the spring is loaded and pushes the arm down.", drawSpringArm},
	"wishbone":     {228, "Corner seen from the end of the car. Upper and lower wishbone hold the knuckle, the coil-over stands on the lower one. The inner pivots are rubber bushes: final torque at ride height only.", drawWishbone},
	"beam":         {232, "Twist beam from the side, wheel off. The arm turns in a bush at its front, the spring stands on it, the damper is behind. A jack holds the arm before the damper is undone: the damper is what stops it from dropping.", drawBeam},
	"live_axle":    {232, "Live axle from the side, wheel off. Links lead forward to the body, a coil spring stands on the axle, the damper is behind. A jack holds the axle itself, never a link, before a damper is undone.", drawLiveAxle},
	"leaf":         {214, "Leaf spring from the side. Fixed eye in front, shackle behind, U-bolts clamp the spring to the axle. A jack holds the axle before the U-bolts are undone. Eye and shackle bolts: final torque at ride height only.", drawLeaf},
	"hub_held":     {196, "Two hubs without their strut. Right: a strap from the body carries the hub and the brake hose hangs slack. Wrong: the hub hangs on the brake hose.", drawHubHeld},
	"hose":         {196, "Two brake hoses. Right: the stripe along the hose runs straight and the sensor wire lies beside it in its clips. Wrong: the stripe winds round the hose, which is twisted.", drawHose},
	"adapter":      {214, "Torque wrench with an adapter, from above. In line with the wrench the lever is longer: set less than the bolt is to get. Square across, the setting stays as it is. Pull at the middle of the grip.", drawAdapter},
	"level_rim":    {212, "Wheel from the front, lean exaggerated. A level held upright, its bubble in the middle, touches the rim at one end; a ruler at the other end reads the gap to the rim. Rim, not tyre.", drawLevelRim},
	"tape_height":  {206, "Wheel from the side. A tape goes straight up from the hub's centre to the edge of the arch.", drawTapeHeight},
	"tape_toe":     {222, "Both wheels of an axle from above. Marks on the tyres at hub height, measured from mark to mark behind. The car rolls half a wheel turn forward and the same marks are measured in front.", drawTapeToe},
	"lower":        {236, "Car from the front on two stands. First the jack in the middle takes the weight, then both stands come out, then the jack comes down slowly. Nobody reaches or lies under the car.", drawLower},
	"settle":       {196, "Car from the side on its wheels. First it is rolled straight by hand, then each end is pressed down and let go at the bottom.", drawSettle},
	"bench":        {240, "Strut on the bench, and its lower spring seat from above: the spring's end lies against the stop in the seat, without a gap. The mark for the side is read before the strut goes in. The top nut is not undone while the spring is loaded.", drawBench},
	"lock_to_lock": {212, "A front wheel from above, turned to one lock and dashed to the other. Brake hose and sensor wire stay slack at both and touch nothing.", drawLocks},
}

// SketchNames lists every drawing, sorted.
func SketchNames() []string { return slices.Sorted(maps.Keys(sketches)) }

// pen collects what a drawing consists of, in the order of painting.
type pen struct {
	marks []stroke
	turn  string // an SVG transform for the lines that follow
}

// stroke is one line, or one label when it has a text.
type stroke struct {
	class, d, turn string
	x, y           int
	anchor, text   string
}

func (s sketch) marks() []stroke {
	p := new(pen)
	s.draw(p)
	return p.marks
}

// path adds a line given as SVG path data.
func (p *pen) path(class, d string) {
	p.marks = append(p.marks, stroke{class: class, d: d, turn: p.turn})
}

// put adds a shape given relative to its first point.
func (p *pen) put(class string, x, y int, d string) {
	p.path(class, fmt.Sprintf("M%d %d", x, y)+d)
}

func (p *pen) line(class string, x1, y1, x2, y2 int) {
	p.path(class, fmt.Sprintf("M%d %dL%d %d", x1, y1, x2, y2))
}

func (p *pen) circle(class string, x, y, r int) {
	p.put(class, x-r, y, fmt.Sprintf("a%d %d 0 1 0 %d 0a%d %d 0 1 0 %d 0z", r, r, 2*r, r, r, -2*r))
}

// label adds words, one line below the other, note the same in small letters;
// anchor is "start", "middle" or "end".
func (p *pen) label(anchor string, x, y int, text string) { p.lines("label", anchor, x, y, 18, text) }

func (p *pen) note(anchor string, x, y int, text string) { p.lines("small", anchor, x, y, 15, text) }

func (p *pen) lines(class, anchor string, x, y, step int, text string) {
	for i, line := range strings.Split(text, "\n") {
		p.marks = append(p.marks, stroke{class: class, anchor: anchor, x: x, y: y + i*step, text: line})
	}
}

// along gives points beside a line: t from 0 to 1 on the way, by to its right.
func along(x1, y1, x2, y2 int) func(t, by float64) string {
	dx, dy := float64(x2-x1), float64(y2-y1)
	long := math.Hypot(dx, dy)
	return func(t, by float64) string {
		return num(float64(x1)+t*dx-by*dy/long) + " " + num(float64(y1)+t*dy+by*dx/long)
	}
}
