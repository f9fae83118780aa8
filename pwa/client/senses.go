package client

import (
	"strutcard/calc/lang"
	"strutcard/templates"
)

// senses are the switches that the page itself obeys; they are kept beside the record.
func (c *Client) senses() []templates.Sense {
	return []templates.Sense{
		c.sense("glove", false, lang.T("For gloves"), lang.T("Everything to press is larger.")),
		c.sense("tick", true, lang.T("Vibration"), lang.T("The phone vibrates once when an entry is recorded, three times when a press was refused. Not every phone can.")),
		c.sense("sounds", false, lang.T("Sounds"), lang.T("High for recorded, low for refused.")),
		c.sense("aloud", false, lang.T("Read each step aloud"), lang.T("By itself, when the step comes. The button on each step reads it again.")),
	}
}

func (c *Client) sense(name string, usual bool, title, words string) templates.Sense {
	on := usual
	if kept := c.cfg.Platform.Recall("sc-" + name); kept != "" {
		on = kept == "on"
	}
	return templates.Sense{Name: name, Title: title, Words: words, On: on}
}
