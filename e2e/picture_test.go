package e2e

import (
	"path/filepath"
	"testing"

	"github.com/playwright-community/playwright-go"
)

// picture keeps a picture of the page when pictures are wanted.
func picture(t *testing.T, page playwright.Page, name string) {
	t.Helper()
	if !*shots {
		return
	}
	if _, err := page.Screenshot(playwright.PageScreenshotOptions{Path: playwright.String(filepath.Join("shots", name+".png"))}); err != nil {
		t.Errorf("picture %s: %v", name, err)
	}
}
