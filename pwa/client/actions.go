package client

import (
	"context"
	"encoding/json"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

type action func(*Client, context.Context, map[string]string) error

// actions is everything that can be pressed; a table takes far less of the
// download than a map that is filled at the start.
var actions []struct {
	name string
	do   action
}

func init() {
	actions = []struct {
		name string
		do   action
	}{
		{"home", goHome},
		{"back", goBack},
		{"open_job", openJob},
		{"new_job", goNew},
		{"start_job", startJob},
		{"own", goOwn},
		{"own_form", goOwnForm},
		{"own_save", saveOwn},
		{"own_piece_drop", dropPiece},
		{"own_make", makeOwn},
		{"own_copy", copyOwn},
		{"own_drop", dropOwn},
		{"work", goWork},
		{"steps", goTo("steps")},
		{"go", goStep},
		{"tally", goTo("tally")},
		{"measure", goTo("measure")},
		{"card", goTo("card")},
		{"people", goTo("people")},
		{"comment", comment},
		{"sync_screen", goTo("sync")},
		{"words", goWords},
		{"words_back", leaveWords},
		{"take", goReading},
		{"methods", goTo("methods")},
		{"method", goMethod},
		{"way", chooseWay},
		{"keep_level", keepLevel},
		{"count", countPart},
		{"tool", listTool},
		{"answer", answer},
		{"ask_again", askAgain},
		{"override", override},
		{"move", move},
		{"loosen", loosen},
		{"fit", fit},
		{"pass", makePass},
		{"with_adapter", withAdapter},
		{"mark", mark},
		{"spec", giveSpec},
		{"reading", takeReading},
		{"adjust", adjust},
		{"question", answerQuestion},
		{"question_over", questionOver},
		{"look_again", lookAgain},
		{"give_up", giveUp},
		{"position", notePosition},
		{"clicks", countClicks},
		{"leftovers", countLeftovers},
		{"reopen", reopen},
		{"over_withdrawal", overWithdrawal},
		{"begin", begin},
		{"done", stepDone},
		{"skip", skipStep},
		{"release", release},
		{"note", addNote},
		{"undo", undo},
		{"finish", finish},
		{"photo", takePhoto},
		{"photo_left_out", leavePhotoOut},
		{"photo_skip", skipPhoto},
		{"no_photo", noPhoto},
		{"park_form", goTo("park")},
		{"park", park},
		{"pushed", pushed},
		{"last_made", lastMade},
		{"resume", resume},
		{"arrive", arrive},
		{"watch", goTo("watch")},
		{"keep_watch", keepWatch},
		{"ask_every", askEvery},
		{"ask_never", askNever},
		{"try_alarm", tryAlarm},
		{"all_right", allRight},
		{"need_help", needHelp},
		{"kit", goKit},
		{"kit_add", addItem},
		{"kit_change", changeItem},
		{"kit_save", saveItem},
		{"kit_close", closeItem},
		{"kit_remove", removeItem},
		{"tool_use", useItem},
		{"tool_change", changeTool},
		{"tool_leave", leaveTool},
		{"torques", goTo("torques")},
		{"use_wrench", useWrench},
		{"recheck", goTo("recheck")},
		{"save_reminder", saveReminder},
		{"no_sensor", noSensor},
		{"dismiss", dismiss},
		{"print", printPage},
		{"look", look},
		{"set", set},
		{"update", update},
		{"install", doInstall},
		{"no_install", notInstall},
		{"export", export},
		{"export_all", exportAll},
		{"export_state", exportState},
		{"bring_in", bringIn},
		{"understood", understood},
		{"link", followLink},
	}
}

func actionOf(name string) action {
	for _, a := range actions {
		if a.name == name {
			return a.do
		}
	}
	return nil
}

func goTo(place string) action {
	return func(c *Client, _ context.Context, _ map[string]string) error {
		c.view.Place = place
		return nil
	}
}

func goHome(c *Client, _ context.Context, _ map[string]string) error {
	c.log = nil
	c.show(nil)
	c.view = view{Place: "home"}
	return nil
}

// goBack returns to a place of before, as the browser kept it. What a screen needs and
// is gone by now, falls back as after a restart. When the other job cannot be read the
// person stays: a step of one job must not stand over the record of another.
func goBack(c *Client, ctx context.Context, args map[string]string) error {
	var to view
	if json.Unmarshal([]byte(args["to"]), &to) != nil || to.Place == "" {
		to.Place = "home"
	}
	was := c.view
	c.view = to
	switch {
	case to.Job == "":
		c.log = nil
		c.show(nil)
	case c.openID() != to.Job:
		if err := c.openJob(ctx, to.Job); err != nil {
			if c.log != nil {
				c.view = was
			}
			return err
		}
	}
	return nil
}

func openJob(c *Client, ctx context.Context, args map[string]string) error {
	c.view = view{Place: "work"}
	return c.openJob(ctx, event.JobID(args["job"]))
}

func goNew(c *Client, _ context.Context, args map[string]string) error {
	c.view = view{Place: "new", Sheet: args["sheet"]}
	return nil
}

func startJob(c *Client, ctx context.Context, args map[string]string) error {
	if strings.TrimSpace(args["vehicle"]) == "" {
		return fault.New(fault.Invalid, "The car has no name yet.", "Write which car it is, in your own words.")
	}
	if err := c.newJob(ctx, args["sheet"], strings.TrimSpace(args["vehicle"])); err != nil {
		return err
	}
	c.dropDrafts(ctx, "new.vehicle")
	return nil
}

// goWork returns to the step where the work is.
func goWork(c *Client, _ context.Context, _ map[string]string) error {
	c.view.Place, c.view.Step = "work", ""
	return nil
}

// goStep looks at a step on purpose.
func goStep(c *Client, _ context.Context, args map[string]string) error {
	c.view.Place, c.view.Step = "work", event.StepID(args["step"])
	return nil
}

func goReading(c *Client, _ context.Context, args map[string]string) error {
	c.view.Place, c.view.Quantity, c.view.At = "reading", event.Quantity(args["quantity"]), event.Place(args["place"])
	return nil
}

// noSensor says what the page could not read; the angle can always be typed.
func noSensor(_ *Client, _ context.Context, args map[string]string) error {
	return fault.New(fault.Blocked, pick(args["why"], lang.T("The motion sensor could not be read.")), "Read the angle off another instrument and type it, or measure another way.")
}

func printPage(c *Client, _ context.Context, _ map[string]string) error {
	c.cfg.Platform.Print()
	return nil
}

func dismiss(*Client, context.Context, map[string]string) error { return nil }

// look reads the log again: another tab, or the sync, may have changed it.
func look(c *Client, ctx context.Context, _ map[string]string) error {
	if err := c.loadIdentity(ctx); err != nil {
		return unread(err)
	}
	c.countWaiting(ctx)
	if c.log == nil {
		return nil
	}
	events, err := c.cfg.Log.Job(ctx, c.log.State().Job)
	if err != nil {
		return unread(err)
	}
	if had := c.log.Events(); len(events) < len(had) { // the browser cleared the disk under an open page
		if _, err := c.cfg.Log.Take(ctx, store.Change{Events: had, Carry: true}); err != nil {
			return fault.Wrap(err, fault.Storage, "The phone's storage has lost this job. It is still on this screen.", "Save a copy of the record now, before you close the app.")
		}
		c.countWaiting(ctx)
	}
	c.log.Add(events...)
	c.chain = event.ChainOf(c.log.State().Job, c.device, c.log.Events())
	return nil
}

func unread(err error) error {
	return fault.Wrap(err, fault.Storage, "The record could not be read just now. Nothing was changed.", "Close the app fully and open it again.")
}

func addNote(c *Client, ctx context.Context, args map[string]string) error {
	if strings.TrimSpace(args["text"]) == "" {
		return fault.New(fault.Invalid, "The note is empty.", "Write it, then keep it.")
	}
	step, _ := c.step()
	note := &event.NoteAdded{Text: args["text"]}
	if step != nil {
		note.Step = step.ID
	}
	if err := c.record(ctx, note); err != nil {
		return err
	}
	c.dropDrafts(ctx, "note."+string(note.Step))
	return nil
}

func undo(c *Client, ctx context.Context, args map[string]string) error {
	e, ok := c.lastOwn()
	if !ok {
		return fault.New(fault.Blocked, "The last thing recorded cannot be taken back.", "Record what is true now instead.")
	}
	if strings.TrimSpace(args["reason"]) == "" {
		return fault.New(fault.Invalid, "Say why it is taken back.", "The old entry stays in the record beside your reason.")
	}
	if err := c.record(ctx, &event.Corrected{Event: e.ID, Reason: args["reason"]}); err != nil {
		return err
	}
	c.dropDrafts(ctx, "undo.reason")
	return nil
}

func finish(c *Client, ctx context.Context, _ map[string]string) error {
	if err := c.record(ctx, &event.JobFinished{}); err != nil {
		return err
	}
	c.view.Place = "card"
	return nil
}
