package main

import (
	"context"
	"fmt"
	"os"
	"strings"
	"text/tabwriter"
	"time"

	"strutcard/server"
	"strutcard/server/shop"
)

// users is what every command about the staff needs.
type users struct {
	Data string `required:"" type:"path" help:"Folder of the server's data. The server may be running."`
	Shop string `help:"Name of the shop, when there are several."`
}

func (u users) open(ctx context.Context, do func(server.Users) error) error {
	return server.WithUsers(ctx, u.Data, u.Shop, time.Now, do)
}

// reach is how people get to the server, for commands that print a link.
type reach struct {
	URL string `default:"https://YOUR-SERVER" help:"How people reach the server; printed links begin with it."`
}

type userCmd struct {
	List  userListCmd  `cmd:"" help:"List the staff with their roles."`
	Add   userAddCmd   `cmd:"" help:"Print a one-time link that makes an account."`
	Roles userRolesCmd `cmd:"" help:"Give somebody other roles."`
	Reset userResetCmd `cmd:"" help:"Print a one-time link that sets a new password."`
	End   userEndCmd   `cmd:"" help:"End somebody's access at once."`
}

type userListCmd struct{ users }

type userAddCmd struct {
	users
	reach
	Roles []string `arg:"" help:"Roles: reviewer, author, administrator."`
}

type userRolesCmd struct {
	users
	Name  string   `arg:"" help:"Name that this person signs in with."`
	Roles []string `arg:"" help:"All the roles to have from now on: reviewer, author, administrator."`
}

type userResetCmd struct {
	users
	reach
	Name string `arg:"" help:"Name that this person signs in with."`
}

type userEndCmd struct {
	users
	Name string `arg:"" help:"Name that this person signs in with."`
}

type tidyCmd struct {
	Data string `required:"" type:"path" help:"Folder of the server's data. The server may be running."`
}

// Run lists the staff.
func (c *userListCmd) Run(ctx context.Context) error {
	return c.open(ctx, func(u server.Users) error {
		staff, err := u.List(ctx)
		if err != nil {
			return err
		}
		out := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', 0)
		for _, one := range staff {
			roles := one.Roles.String()
			if !one.Ended.IsZero() {
				roles = "ended " + one.Ended.Local().Format(time.DateOnly)
			}
			_, _ = fmt.Fprintf(out, "%s\t%s\n", one.Name, roles) // Flush tells of a failure
		}
		return out.Flush()
	})
}

// Run prints an invitation.
func (c *userAddCmd) Run(ctx context.Context) error {
	roles, err := shop.ParseRoles(c.Roles)
	if err != nil {
		return err
	}
	return c.open(ctx, func(u server.Users) error {
		link, ends, err := u.Add(ctx, roles)
		if err != nil {
			return err
		}
		c.print("This link makes an account", link, ends)
		return nil
	})
}

// Run prints a link to set a password.
func (c *userResetCmd) Run(ctx context.Context) error {
	return c.open(ctx, func(u server.Users) error {
		link, ends, err := u.Reset(ctx, c.Name)
		if err != nil {
			return err
		}
		c.print("This link sets a new password for "+c.Name, link, ends)
		return nil
	})
}

func (r reach) print(what, link string, ends time.Time) {
	fmt.Printf("%s, once, until %s. Hand it to this person alone:\n", what, ends.Local().Format("2 Jan 2006, 15:04"))
	fmt.Println(" ", strings.TrimSuffix(r.URL, "/")+link)
}

// Run changes somebody's roles.
func (c *userRolesCmd) Run(ctx context.Context) error {
	roles, err := shop.ParseRoles(c.Roles)
	if err != nil {
		return err
	}
	return c.open(ctx, func(u server.Users) error {
		if err := u.SetRoles(ctx, c.Name, roles); err != nil {
			return err
		}
		fmt.Printf("%s is now: %s\n", c.Name, roles)
		return nil
	})
}

// Run ends somebody's access.
func (c *userEndCmd) Run(ctx context.Context) error {
	return c.open(ctx, func(u server.Users) error {
		if err := u.End(ctx, c.Name); err != nil {
			return err
		}
		fmt.Printf("%s can no longer sign in. What %s wrote stays.\n", c.Name, c.Name)
		return nil
	})
}

// Run deletes the jobs that were kept long enough.
func (c *tidyCmd) Run(ctx context.Context) error {
	jobs, err := server.Tidy(ctx, c.Data, time.Now)
	if err != nil {
		return err
	}
	fmt.Printf("Deleted %d finished jobs that were kept long enough.\n", jobs)
	return nil
}
