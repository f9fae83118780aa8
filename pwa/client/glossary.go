package client

import (
	"context"
	"slices"

	"strutcard/calc/lang"
	"strutcard/templates"
)

// worded are the places below which a way leads to the words on them.
var worded = []string{"work", "tally", "measure", "reading", "method"}

// withWords adds that way to a screen.
func (c *Client) withWords(ctx context.Context, html string) string {
	if slices.Contains(worded, c.view.Place) && c.vigil.asked == 0 {
		return html + render(ctx, templates.WordsHere())
	}
	return html
}

func goWords(c *Client, _ context.Context, _ map[string]string) error {
	if c.view.Place != "words" {
		c.view.Place, c.view.Back = "words", c.view.Place
	}
	return nil
}

// leaveWords returns to where the glossary was opened.
func leaveWords(c *Client, _ context.Context, _ map[string]string) error {
	c.view.Place, c.view.Back = pick(c.view.Back, "home"), ""
	return nil
}

func (c *Client) wordsBar() templates.Bar {
	bar := c.placeBar("")
	bar.Buttons = append([]templates.Button{{Do: "words_back", Label: lang.T("Back to where you were")}}, bar.Buttons...)
	return bar
}

// wordsBefore finds the words of the screen that the glossary was opened from. To look
// for them at each paint would make every press wait.
func (c *Client) wordsBefore(ctx context.Context) []templates.Word {
	if !slices.Contains(worded, c.view.Back) {
		return nil
	}
	now := c.view
	defer func() { c.view = now }()
	c.view.Place = now.Back
	before, _ := c.screen(ctx)
	return templates.WordsIn(render(ctx, before))
}
