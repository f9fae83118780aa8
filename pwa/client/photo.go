package client

import (
	"context"
	"fmt"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// takePhoto records a picture that the page says it has kept. Pressing again
// after a failure records it once.
func takePhoto(c *Client, ctx context.Context, args map[string]string) error {
	p, err := photoOf(args)
	if err != nil {
		return err
	}
	if c.log == nil || args["job"] != "" && args["job"] != string(c.log.State().Job) {
		return fault.New(fault.NotFound, "The job of this photo is not open any more. The photo was not recorded.", "Open that job and take the photo again.")
	}
	if !c.hasPhoto(p) {
		if err := c.photoKept(ctx, p); err != nil {
			return err
		}
		if err := c.record(ctx, p); err != nil {
			return err
		}
	}
	if p.Photo == "" {
		c.dropDrafts(ctx, "photo.caption")
	}
	return nil
}

func photoOf(args map[string]string) (*event.PhotoTaken, error) {
	p := &event.PhotoTaken{Step: event.StepID(args["step"]), Photo: event.PhotoID(args["photo"]), SHA256: args["sha256"], Caption: strings.TrimSpace(args["caption"])}
	if p.SHA256 == "" {
		return nil, fault.New(fault.Invalid, "There is no photo yet.", "Press the button that takes it.")
	}
	for _, x := range []struct {
		name, what string
		into       *int64
	}{{"bytes", lang.T("The photo's bytes"), &p.Bytes}, {"width", lang.T("The photo's width"), &p.Width}, {"height", lang.T("The photo's height"), &p.Height}} {
		n, err := whole(args[x.name], x.what)
		if err != nil {
			return nil, err
		}
		*x.into = n
	}
	return p, nil
}

func (c *Client) hasPhoto(p *event.PhotoTaken) bool {
	for _, had := range c.log.State().Photos {
		if had.Step == p.Step && had.Photo == p.Photo && had.SHA256 == p.SHA256 {
			return true
		}
	}
	return false
}

// photoKept asks the phone's disk, not the page's word: the record names no
// picture that is not there.
func (c *Client) photoKept(ctx context.Context, p *event.PhotoTaken) error {
	if c.cfg.Photos == nil {
		return photoFault("")
	}
	size, err := c.cfg.Photos.Size(ctx, p.SHA256)
	if err != nil {
		return fmt.Errorf("look for photo: %w", err)
	}
	if size == 0 || size != p.Bytes {
		return photoFault("")
	}
	return nil
}

// leavePhotoOut goes on without a picture, for a reason.
func leavePhotoOut(c *Client, ctx context.Context, args map[string]string) error {
	if strings.TrimSpace(args["reason"]) == "" {
		return fault.New(fault.Invalid, "A photo is left out only with a reason.", "Write the reason, or take the photo.")
	}
	if err := c.record(ctx, &event.PhotoLeftOut{Step: event.StepID(args["step"]), Photo: event.PhotoID(args["photo"]), Reason: args["reason"]}); err != nil {
		return err
	}
	c.dropDrafts(ctx, "photo.reason")
	return nil
}

// skipPhoto goes on without a picture that was only wished for.
func skipPhoto(c *Client, ctx context.Context, args map[string]string) error {
	if c.sheet == nil {
		return fault.New(fault.NotFound, "No job is open.", "Open a job first.")
	}
	if ask := findPhoto(c.sheet, args["step"], args["photo"]); ask == nil || ask.Must {
		return fault.New(fault.Blocked, "This photo is required.", "Take it, or leave it out with a reason. The shop sees the reason.")
	}
	return c.record(ctx, &event.PhotoLeftOut{Step: event.StepID(args["step"]), Photo: event.PhotoID(args["photo"]), Reason: guide.NotWanted})
}

func findPhoto(s *sheet.Sheet, step, photo string) *sheet.PhotoAsk {
	at := s.Step(event.StepID(step))
	if at == nil {
		return nil
	}
	for i := range at.Photos {
		if string(at.Photos[i].ID) == photo {
			return &at.Photos[i]
		}
	}
	return nil
}

// noPhoto says why the page kept no picture, what is safe, and what to do.
func noPhoto(_ *Client, _ context.Context, args map[string]string) error {
	return photoFault(args["why"])
}

// photoFault puts the page's name for a failure into words.
func photoFault(why string) error {
	goOn := " " + lang.T("Or go on without it: leave it out, with a reason.")
	switch why {
	case "QuotaExceededError":
		return fault.New(fault.Full, "The photo was not kept: the phone has no room left. The record is safe.", lang.T("Delete something else on the phone, then take it again.")+goOn)
	case "Unreadable":
		return fault.New(fault.Invalid, "This browser cannot read that picture. Nothing was kept; the record is safe.", lang.T("Take it with the camera, or choose a JPEG.")+goOn)
	case "Blank", "Empty":
		return fault.New(fault.Invalid, "The picture came out empty. Nothing was kept; the record is safe.", lang.T("Take it again. If it stays empty, close other apps first.")+goOn)
	case "TooLarge":
		return fault.New(fault.TooLarge, "The picture is larger than 60 MB. Nothing was kept; the record is safe.", lang.T("Take it with the phone's own camera.")+goOn)
	case "NoCanvas":
		return fault.New(fault.Blocked, "This browser does not let the app make a picture smaller. Nothing was kept; the record is safe.", lang.T("Allow this site to read its own drawings, or use another browser for the next job.")+goOn)
	case "lost":
		return fault.New(fault.Storage, "The app was closed while the camera was open. That photo did not arrive; the record is safe.", "Take it again.")
	}
	return fault.New(fault.Storage, "The photo was not kept: the phone's photo store did not take it. The record is safe.", lang.T("Take it again.")+goOn)
}

// photoAsk is the form for a picture that the shown step asks for.
func (c *Client) photoAsk(ask *sheet.PhotoAsk) *templates.PhotoForm {
	f := c.ownPhoto()
	f.Photo, f.What, f.Must = string(ask.ID), ask.What, ask.Must
	return f
}

// ownPhoto is the form for a picture of the person's own at the shown step.
func (c *Client) ownPhoto() *templates.PhotoForm {
	f := &templates.PhotoForm{Job: string(c.log.State().Job)}
	if step, _ := c.step(); step != nil {
		f.Step = string(step.ID)
	}
	return f
}

// besideStep adds what stands on a step's screen beside the step itself: its
// photos, and before the car goes up whether the phone can do without a signal.
func (c *Client) besideStep(v *templates.Step) {
	st := c.log.State()
	v.Photos = templates.PhotosAt(c.sheet, st, event.StepID(v.ID))
	if st.Finished == nil {
		v.OwnPhoto = c.ownPhoto()
	}
	if step := c.sheet.Step(event.StepID(v.ID)); step != nil && beforeTheFirstLift(step, st) {
		v.Ready = c.ready()
	}
}

func beforeTheFirstLift(step *sheet.Step, st *job.State) bool {
	return len(st.Lifts) == 0 && (step.Specs || step.Move == event.Raise)
}
