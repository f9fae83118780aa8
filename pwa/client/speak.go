package client

import (
	"context"

	"strutcard/calc/lang"
	"strutcard/sync/fault"
)

// speak changes the language of the app; "" is the one chosen before, or the phone's.
func (c *Client) speak(ctx context.Context, tag string) error {
	spoken, words, err := c.cfg.Platform.Words(ctx, tag)
	switch {
	case err != nil:
	case words == "":
		lang.SpeakEnglish()
	default:
		err = lang.SpeakSmall(spoken, words)
	}
	c.last = "" // it was said in the other language
	if c.made != nil {
		c.show(c.made)
	}
	if err != nil {
		return fault.Wrap(err, fault.Unreachable, "The words of this language could not be fetched. The app goes on in the one it has.", "Try again when there is a signal.")
	}
	return nil
}
