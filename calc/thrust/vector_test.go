package thrust_test

import (
	_ "embed"
	"testing"

	"strutcard/calc/internal/vector"
	"strutcard/calc/quantity"
	"strutcard/calc/thrust"
)

//go:embed testdata/thrust.json
var vectors []byte

func TestVectors(t *testing.T) { vector.Run(t, vectors, formulas) }

func deg(v *vector.Vector, name string) quantity.Angle { return quantity.Degrees(v.Num(name)) }

func mm(v *vector.Vector, name string) quantity.Length { return quantity.Millimetres(v.Num(name)) }

func so(ok bool) []float64 {
	if ok {
		return []float64{1}
	}
	return []float64{0}
}

// axle reads two toes in minutes or degrees.
func axle(v *vector.Vector, unit func(float64) quantity.Angle, left, right string) thrust.Wheels {
	at := func(name string) value {
		return value{Value: unit(v.Num(name)), Standard: quantity.Minutes(1)}
	}
	return thrust.Wheels{Left: at(left), Right: at(right)}
}

var formulas = map[string]vector.Formula{
	"thrust": func(v *vector.Vector) ([]float64, error) {
		got, err := in(axle(v, quantity.Degrees, "left", "right"), thrust.Convention(v.Text("convention")))
		return []float64{got.Value.Degrees()}, err
	},
	"thrust min": func(v *vector.Vector) ([]float64, error) {
		got, err := in(axle(v, quantity.Minutes, "left", "right"), thrust.Convention(v.Text("convention")))
		return []float64{got.Value.Minutes()}, err
	},
	"points": func(v *vector.Vector) ([]float64, error) {
		th, err := thrust.FromRear(axle(v, quantity.Degrees, "left", "right"))
		_, side := th.Points()
		return so(string(side) == v.Text("side")), err
	},
	"iso mean": func(v *vector.Vector) ([]float64, error) {
		got, err := axle(v, quantity.Degrees, "left", "right").ISO()
		return []float64{got.Mean.Value.Degrees()}, err
	},
	"iso wheels": func(v *vector.Vector) ([]float64, error) {
		got, err := axle(v, quantity.Degrees, "left", "right").ISO()
		return []float64{got.Left.Value.Degrees(), got.Right.Value.Degrees()}, err
	},
	"to thrust": func(v *vector.Vector) ([]float64, error) {
		th, err := thrust.FromRear(axle(v, quantity.Degrees, "left", "right"))
		if err != nil {
			return nil, err
		}
		got, err := th.Front(axle(v, quantity.Degrees, "front_left", "front_right"))
		return []float64{got.Left.Value.Degrees(), got.Right.Value.Degrees()}, err
	},
	"offset": func(v *vector.Vector) ([]float64, error) {
		th, err := thrust.Signed(quantity.Minutes(v.Num("minutes")), thrust.PositiveRight, quantity.Minutes(1))
		if err != nil {
			return nil, err
		}
		got, err := th.Offset(mm(v, "wheelbase_mm"), quantity.Millimetres(1))
		if string(got.Rear) != v.Text("side") {
			return nil, err
		}
		return []float64{got.By.Value.Millimetres()}, err
	},
	"offset u95": func(v *vector.Vector) ([]float64, error) {
		step := quantity.Minutes(v.Num("step_min"))
		th, err := thrust.FromRear(thrust.Wheels{Left: read(quantity.Minutes(v.Num("left")), step), Right: read(quantity.Minutes(v.Num("right")), step)})
		if err != nil {
			return nil, err
		}
		got, err := th.Offset(mm(v, "wheelbase_mm"), mm(v, "res_mm"))
		return []float64{got.By.Expanded().Millimetres()}, err
	},
	"wheel sign": func(v *vector.Vector) ([]float64, error) {
		left, err := thrust.ISOSteeringWheel(deg(v, "deg"), thrust.Left)
		if err != nil {
			return nil, err
		}
		right, err := thrust.ISOSteeringWheel(deg(v, "deg"), thrust.Right)
		return []float64{left.Degrees(), right.Degrees()}, err
	},
	"heading": func(v *vector.Vector) ([]float64, error) {
		left, err := thrust.Heading(thrust.Left, deg(v, "toe"))
		if err != nil {
			return nil, err
		}
		right, err := thrust.Heading(thrust.Right, deg(v, "toe"))
		return so(string(left) == v.Text("left") && string(right) == v.Text("right")), err
	},
	"asked": func(v *vector.Vector) ([]float64, error) {
		return so(thrust.Question(deg(v, "deg")) != ""), nil
	},
	"steering": func(v *vector.Vector) ([]float64, error) {
		th, err := thrust.FromRear(axle(v, quantity.Minutes, "left", "right"))
		if err != nil {
			return nil, err
		}
		c, err := th.SteeringWheel(axle(v, quantity.Minutes, "front_left", "front_right"), quantity.Minutes(2))
		if err != nil {
			return nil, err
		}
		got, err := c.Angle(quantity.Ratio(v.Num("ratio")))
		if string(c.Road.Side) != v.Text("side") {
			return nil, err
		}
		return []float64{got.Value.Degrees()}, err
	},
	"set-back": func(v *vector.Vector) ([]float64, error) {
		got, err := thrust.FromWheelbases(thrust.Wheelbases{Left: mm(v, "left_mm"), Right: mm(v, "right_mm"), Track: mm(v, "track_mm"), Resolution: quantity.Millimetres(1)})
		if string(got.Short) != v.Text("short") {
			return nil, err
		}
		return []float64{got.By.Value.Millimetres(), got.Angle.Value.Degrees()}, err
	},
}

func in(rear thrust.Wheels, c thrust.Convention) (value, error) {
	th, err := thrust.FromRear(rear)
	if err != nil {
		return value{}, err
	}
	return th.In(c)
}
