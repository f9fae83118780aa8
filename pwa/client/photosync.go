package client

import (
	"context"
	"time"

	"strutcard/templates"
)

// sendPhotos has the page carry the pictures. It returns at once: on a slow link
// they take hours, and neither the record nor the person waits for them. epoch
// tells which server it goes to.
func (c *Client) sendPhotos(ctx context.Context, token, epoch string) {
	if c.cfg.Photos == nil {
		return
	}
	c.mu.Lock()
	wanted := c.namedPhotos()
	c.mu.Unlock()
	done := make(chan struct{})
	go func() {
		defer close(done)
		_ = c.cfg.Photos.Send(ctx, token, epoch, wanted) // what stood in the way is in the progress
	}()
	go c.followPhotos(ctx, done)
}

// followPhotos shows how far they are, for as long as somebody looks.
func (c *Client) followPhotos(ctx context.Context, done <-chan struct{}) {
	tick := time.NewTicker(time.Second)
	defer tick.Stop()
	for going := true; going; {
		select {
		case <-done:
			going = false
		case <-tick.C:
		}
		c.mu.Lock()
		if c.view.Place == "sync" {
			c.paint(ctx)
		}
		c.mu.Unlock()
	}
}

// namedPhotos are the pictures of the open job, whoever took them.
func (c *Client) namedPhotos() []string {
	if c.log == nil {
		return nil
	}
	var names []string
	for _, p := range c.log.State().Photos {
		names = append(names, p.SHA256)
	}
	return names
}

// photosSent puts the progress into words, and what stands in the way.
func (c *Client) photosSent() (words, trouble string) {
	if c.cfg.Photos == nil || c.token == "" {
		return "", ""
	}
	p := c.cfg.Photos.Progress()
	if p.Of > 0 {
		words = templates.PhotosSent(p.Done, p.Of, p.BytesDone, p.BytesOf) + "."
	}
	return words, p.Trouble
}
