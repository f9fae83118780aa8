package client

import (
	"context"

	"strutcard/calc/lang"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

const installKey = "sc-install" // set once somebody does not want to be asked again

// install says how this app comes to the home screen, or nil where it is, or where
// the browser offers no way.
func (c *Client) install(jobs bool) *templates.Install {
	env := c.cfg.Platform.Env()
	if env.Standalone || env.Install == "" {
		return nil
	}
	return &templates.Install{How: env.Install, Jobs: jobs}
}

// installOnce is install until somebody puts it off. It waits until the phone is ready
// for no signal: what stands on the home screen shall open.
func (c *Client) installOnce(jobs bool) *templates.Install {
	v := c.install(jobs)
	if v == nil || !c.cfg.Platform.Env().OfflineReady || c.cfg.Platform.Recall(installKey) != "" {
		return nil
	}
	v.Ask = true
	return v
}

func doInstall(c *Client, _ context.Context, _ map[string]string) error {
	c.cfg.Platform.Install()
	return nil
}

func notInstall(c *Client, _ context.Context, _ map[string]string) error {
	c.cfg.Platform.Remember(installKey, "no")
	return nil
}

// firstBar offers to who is here for the first time a look that needs no car.
func (c *Client) firstBar() templates.Bar {
	return templates.Bar{Buttons: []templates.Button{{Do: "start_job", Label: lang.T("Try it in one minute"), Primary: true,
		Args: map[string]string{"sheet": string(sheet.Minute.Hash), "vehicle": lang.T("A bracket in a vice (invented)")}}}}
}
