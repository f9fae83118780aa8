package sheet_test

import (
	"testing"

	"strutcard/sync/fault"
	"strutcard/sync/sheet"
)

// Whatever a file holds, it is a sheet that encodes and decodes to itself, or a
// fault that can be shown.
func FuzzDecode(f *testing.F) {
	for _, s := range sheet.Demo() {
		f.Add(s.Encode())
	}
	f.Add([]byte(`{}`))
	f.Add([]byte(`[1]`))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := sheet.Decode(data)
		if err != nil {
			if shown := fault.Of(err); shown.Message == "" || shown.Hint == "" {
				t.Errorf("refused with %v, which says nothing", err)
			}
			return
		}
		again, err := sheet.Decode(s.Encode())
		if err != nil || again.Hash() != s.Hash() {
			t.Errorf("a sheet that was read does not read back: %v", err)
		}
	})
}
