package templates

import (
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/a-h/templ"

	"strutcard/calc/lang"
)

const quietZone = 4 // modules around a QR code (ISO/IEC 18004)

// codeOf draws a QR code: black on white in every theme, as cameras expect it.
// modules are its rows, one a line, "1" is dark.
func codeOf(modules string) templ.Component {
	return templ.ComponentFunc(func(_ context.Context, w io.Writer) error {
		rows := strings.Split(modules, "\n")
		side := len(rows) + 2*quietZone
		var d strings.Builder
		for y, row := range rows {
			for x := range len(row) {
				if row[x] == '1' {
					fmt.Fprintf(&d, "M%d %dh1v1h-1z", x+quietZone, y+quietZone)
				}
			}
		}
		_, err := fmt.Fprintf(w, `<svg class="code-picture" viewBox="0 0 %d %d" role="img" aria-label="%s"><rect width="%d" height="%d" fill="#fff"/><path d="%s" fill="#000"/></svg>`,
			side, side, templ.EscapeString(lang.T("The link as a QR code")), side, side, d.String())
		return err
	})
}
