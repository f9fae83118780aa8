package e2e

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"testing"
)

// shot is a JPEG as a phone's camera writes it: with its place on earth and the
// maker's name in its metadata, and lying on its side (orientation 6: the left
// edge is the top). Its left half is red; seed makes each another picture.
func shot(t *testing.T, width, height, seed int) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			shade := uint8((x*7 + y*13 + seed*31) % 60)
			c := color.RGBA{R: 180 + shade, G: shade, B: uint8(10 + seed/60*20), A: 255} // other seeds, other pictures
			if x >= width/2 {
				c = color.RGBA{R: 10, G: shade, B: 180 + shade, A: 255}
			}
			img.SetRGBA(x, y, c)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	plain := b.Bytes()
	segment := append([]byte("Exif\x00\x00"), tiff()...)
	head := []byte{0xff, 0xd8, 0xff, 0xe1}
	head = binary.BigEndian.AppendUint16(head, uint16(len(segment)+2))
	return append(append(head, segment...), plain[2:]...)
}

// tiff is the metadata's body (TIFF 6.0, section 2; Exif 2.3, 4.6): a maker, an
// orientation, and a latitude and longitude.
func tiff() []byte {
	le := binary.LittleEndian
	entry := func(b []byte, tag, kind uint16, count, value uint32) []byte {
		b = le.AppendUint32(le.AppendUint16(le.AppendUint16(b, tag), kind), count)
		return le.AppendUint32(b, value)
	}
	const maker = "SecretMaker\x00"
	const ifd, makerAt = 8, 8 + 2 + 3*12 + 4
	const gps = makerAt + len(maker)
	const degrees = gps + 2 + 4*12 + 4
	b := append([]byte("II*\x00"), le.AppendUint32(nil, ifd)...)
	b = le.AppendUint16(b, 3)
	b = entry(b, 0x010f, 2, uint32(len(maker)), makerAt)
	b = entry(b, 0x0112, 3, 1, 6)
	b = entry(b, 0x8825, 4, 1, uint32(gps))
	b = append(le.AppendUint32(b, 0), maker...)
	b = le.AppendUint16(b, 4)
	b = entry(b, 1, 2, 2, 'N')
	b = entry(b, 2, 5, 3, uint32(degrees))
	b = entry(b, 3, 2, 2, 'E')
	b = entry(b, 4, 5, 3, uint32(degrees))
	b = le.AppendUint32(b, 0)
	for _, n := range []uint32{51, 1, 28, 1, 38, 1} {
		b = le.AppendUint32(b, n)
	}
	return b
}
