package main

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"

	"golang.org/x/image/vector"
)

// The mark: a hexagon as the app draws a snug fastener, lower half filled, with
// a paint stripe across it. icon.svg draws the same by hand.
var (
	paper = color.NRGBA{0xfa, 0xf6, 0xed, 0xff}
	ink   = color.NRGBA{0x1d, 0x1b, 0x18, 0xff}
	chalk = color.NRGBA{0x1f, 0x5a, 0x8c, 0xff}
)

// addIcons draws the icons that a home screen needs as bitmaps. The maskable
// one is smaller inside, since a phone may cut it to a circle.
func addIcons(files map[string][]byte) error {
	for _, icon := range []struct {
		name   string
		size   int
		radius float64 // of the hexagon, as a share of the size
	}{
		{"icon-192.png", 192, 0.38},
		{"icon-512.png", 512, 0.38},
		{"icon-maskable-512.png", 512, 0.28},
		{"icon-apple-180.png", 180, 0.34},
	} {
		var b bytes.Buffer
		encoder := png.Encoder{CompressionLevel: png.BestCompression}
		if err := encoder.Encode(&b, drawMark(icon.size, icon.radius)); err != nil {
			return fmt.Errorf("draw %s: %w", icon.name, err)
		}
		files[icon.name] = b.Bytes()
	}
	return nil
}

type point struct{ x, y float64 }

func drawMark(size int, radius float64) image.Image {
	img := image.NewNRGBA(image.Rect(0, 0, size, size))
	draw.Draw(img, img.Bounds(), image.NewUniform(paper), image.Point{}, draw.Src)
	s, c := float64(size), float64(size)/2
	r := radius * s
	line := r * 0.16
	fill(img, ink, hexagon(c, r), reverse(hexagon(c, r-line)))
	lower := hexagon(c, r-line/2) // under the rim, so that no seam shows
	fill(img, ink, []point{lower[0], lower[1], lower[2], lower[3]})
	for _, band := range []struct {
		half  float64
		paint color.Color
	}{{0.17, paper}, {0.11, chalk}} {
		fill(img, band.paint, stripe(c, r, band.half*r))
	}
	return img
}

// hexagon has a flat top; its first four points are the lower half.
func hexagon(centre, radius float64) []point {
	var out []point
	for i := range 6 {
		a := float64(i) * math.Pi / 3
		out = append(out, point{centre + radius*math.Cos(a), centre + radius*math.Sin(a)})
	}
	return out
}

// stripe runs across the hexagon from lower left to upper right and a little beyond.
func stripe(centre, radius, half float64) []point {
	const angle = -math.Pi / 3
	dx, dy := math.Cos(angle), math.Sin(angle)
	reach := radius * 1.12
	corner := func(along, across float64) point {
		return point{centre + along*dx - across*dy, centre + along*dy + across*dx}
	}
	return []point{corner(-reach, -half), corner(reach, -half), corner(reach, half), corner(-reach, half)}
}

func reverse(points []point) []point {
	out := make([]point, len(points))
	for i, p := range points {
		out[len(points)-1-i] = p
	}
	return out
}

func fill(img draw.Image, paint color.Color, outlines ...[]point) {
	z := vector.NewRasterizer(img.Bounds().Dx(), img.Bounds().Dy())
	for _, outline := range outlines {
		z.MoveTo(float32(outline[0].x), float32(outline[0].y))
		for _, p := range outline[1:] {
			z.LineTo(float32(p.x), float32(p.y))
		}
		z.ClosePath()
	}
	z.Draw(img, img.Bounds(), image.NewUniform(paint), image.Point{})
}
