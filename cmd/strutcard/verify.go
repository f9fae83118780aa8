package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/card"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/templates/paper"
)

type verifyCmd struct {
	File string `arg:"" type:"existingfile" help:"A job card (JSON or HTML), or a copy of a record (lines)."`
	Code string `help:"The code on paper, in quotes, to be compared with the file."`
}

// Run says what of a card or copy holds and what does not.
func (c *verifyCmd) Run() error {
	data, err := readCard(c.File)
	if err != nil {
		return err
	}
	reports, err := verified(data)
	if err != nil {
		return err
	}
	compareCode(reports, c.Code)
	held := true
	for _, r := range reports {
		tell(os.Stdout, r)
		held = held && r.Holds()
	}
	if !held {
		return fault.New(fault.Invalid, "Not everything holds. Do not rely on this file.", "Ask for the record itself, and compare.")
	}
	fmt.Println("All that was checked holds. Whether it was true when it was written, no check can tell.")
	return nil
}

func readCard(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }() // it was only read
	data, err := io.ReadAll(io.LimitReader(f, card.MaxBytes+1))
	if err == nil && len(data) > card.MaxBytes {
		err = fault.New(fault.TooLarge, "This file is larger than any job card. Nothing was checked.", "Check that it is the right file.")
	}
	return data, err
}

// verified tells the three kinds of file apart by what is in them.
func verified(data []byte) ([]card.Report, error) {
	switch {
	case bytes.HasPrefix(bytes.TrimSpace(data), []byte("<")):
		inside, err := paper.Data(data)
		if err != nil {
			return nil, err
		}
		return verifiedCard(inside, data)
	case isCopy(data):
		return card.VerifyCopy(data), nil
	}
	return verifiedCard(data, nil)
}

func isCopy(data []byte) bool {
	for line := range bytes.SplitSeq(data, []byte("\n")) {
		if _, err := event.Decode(bytes.TrimSuffix(line, []byte("\r"))); err == nil {
			return true
		}
	}
	return false
}

// verifiedCard checks a card in the language that it is written in. A page that
// carries it is drawn anew: what people read must be what the data says.
func verifiedCard(data, page []byte) ([]card.Report, error) {
	c, err := card.Decode(data)
	if err != nil {
		return nil, err
	}
	if before := lang.Tag(); c.Spoken() != before {
		if err := lang.Use(c.Spoken()); err != nil {
			return nil, fault.Wrap(err, fault.Invalid, "This job card is written in a language that this program does not speak. Nothing was checked.", "Use a newer program.")
		}
		defer func() { _ = lang.Use(before) }() // it was spoken a moment ago
		fmt.Printf("This card is written in another language, %s, and is checked in that one.\n", c.Spoken())
	}
	_, r, err := card.VerifyJSON(data)
	if err != nil || page == nil {
		return []card.Report{r}, err
	}
	again, err := paper.Whole(c)
	if err != nil {
		return nil, err
	}
	var wrong []string
	if !bytes.Equal(page, again) {
		wrong = []string{card.Difference(string(page), string(again)) + " It was changed, or another version of this program wrote it."}
	}
	r.Add("The page shows what its data says", wrong...)
	return []card.Report{r}, nil
}

// compareCode looks for the job of a code that somebody typed.
func compareCode(reports []card.Report, typed string) {
	if typed == "" {
		return
	}
	code, err := card.ReadCode(typed)
	at := slices.IndexFunc(reports, func(r card.Report) bool { return err == nil && r.Code == code })
	reports[max(at, 0)].Against(typed)
}

func tell(to io.Writer, r card.Report) {
	fmt.Fprintf(to, "Job %s, %d events\nCode of these lines: %s\n", r.Job, r.Events, r.Code)
	for _, c := range r.Checks {
		mark := "holds"
		if len(c.Wrong) > 0 {
			mark = "WRONG"
		}
		fmt.Fprintf(to, "  %s  %s\n", mark, c.What)
		for _, w := range c.Wrong {
			fmt.Fprintf(to, "         %s\n", strings.ReplaceAll(w, "\n", " "))
		}
	}
}
