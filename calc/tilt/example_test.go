package tilt_test

import (
	"fmt"

	"strutcard/calc/quantity"
	"strutcard/calc/tilt"
)

func Example() {
	// Two seconds of a phone whose browser gives whole tenths.
	record := func(x, y, z quantity.Acceleration) tilt.Recording {
		r := tilt.Recording{Convention: tilt.W3C}
		for i := range int64(120) {
			r.Samples = append(r.Samples, tilt.Sample{X: x, Y: y, Z: z, AtMS: 17 * i})
		}
		r.Resolution = tilt.StepSeen(r.Samples)
		return r
	}
	mine := tilt.Setup{Phone: "mine", Cover: tilt.Bare}

	// On a door frame: right edge on it, then turned, left edge on it.
	flipped, err := tilt.Calibrate(tilt.Flip{First: record(0.5, 9.8, 0), Second: record(-0.1, 9.8, 0),
		Side: tilt.RightEdge, Up: tilt.Top, Setup: mine, AtMS: 1_000_000})
	fmt.Printf("offset %v ± %v, door frame %v, error %v\n", flipped.Calibration.Offset.Value, flipped.Calibration.Offset.Expanded(), flipped.Surface.Value, err)

	// On the left front wheel, screen to the rear, right edge on the rim.
	camber, err := tilt.Camber(tilt.Held{
		Placement: tilt.Placement{Recording: record(-0.1, 9.8, 0.1), Calibration: &flipped.Calibration, Setup: mine, NowMS: 1_600_000},
		Wheel:     tilt.LeftWheel, Edge: tilt.RightEdge, Faces: tilt.ToRear, TopLeans: tilt.In,
	})
	fmt.Printf("camber %v ± %v, error %v\n", camber.Angle.Value, camber.Angle.Expanded(), err)
	// Output:
	// offset 1.17° ± 0.32°, door frame 1.75°, error <nil>
	// camber −1.75° ± 0.68°, error <nil>
}
