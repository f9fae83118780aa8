// Command strutcard serves the app: for a shop, or as a demo with an invented one.
package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"github.com/alecthomas/kong"

	"strutcard/calc/lang"
	"strutcard/pwa"
	"strutcard/server"
	"strutcard/sync/fault"
)

// listen is what serve and demo share.
type listen struct {
	Addr      string `default:"127.0.0.1:8080" help:"Address to listen on, host:port."`
	PublicURL string `name:"public-url" help:"How people reach this server, such as https://shop.example, when it stands behind a proxy."`
	Cert      string `name:"tls-cert" type:"existingfile" help:"File with the TLS certificate chain."`
	Key       string `name:"tls-key" type:"existingfile" help:"File with the TLS key."`
	Quiet     bool   `help:"Log warnings and errors only."`
	Language  string `default:"en" help:"Language of the shop's pages and of what phones are told: en or de."`
}

type serveCmd struct {
	listen
	Data string `required:"" type:"path" help:"Folder for the database. It is made if it is not there."`
}

type demoCmd struct {
	listen
	Data string `type:"path" help:"Folder for the database. Without it, a scratch folder that is deleted at the end."`
}

type versionCmd struct{}

type cli struct {
	Serve   serveCmd   `cmd:"" help:"Serve a shop."`
	Demo    demoCmd    `cmd:"" help:"Serve an invented shop with invented sheets."`
	Backup  backupCmd  `cmd:"" help:"Copy a server's data, also while it runs."`
	Restore restoreCmd `cmd:"" help:"Make a server's data from a backup."`
	Rebuild rebuildCmd `cmd:"" help:"Compute the queue anew from the record."`
	User    userCmd    `cmd:"" help:"List the staff, let somebody in, end somebody's access."`
	Tidy    tidyCmd    `cmd:"" help:"Delete finished jobs that were kept for as long as the shop wants. A server does it daily."`
	Verify  verifyCmd  `cmd:"" help:"Check a job card, or a copy of a record."`
	Version versionCmd `cmd:"" help:"Print the version."`
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	var c cli
	k := kong.Parse(&c, kong.Name("strutcard"), kong.Description("Records and guides a suspension job. It guides; it does not certify."),
		kong.BindTo(ctx, (*context.Context)(nil)), kong.UsageOnError())
	err := k.Run()
	stop()
	if err != nil {
		fmt.Fprintln(os.Stderr, "strutcard:", words(err))
		os.Exit(1)
	}
}

// words tells an error with its hint, and its cause for whoever runs the server.
func words(err error) string {
	var f *fault.Error
	if errors.As(err, &f) {
		return f.Error()
	}
	return err.Error()
}

func (l listen) config(dir string, demo bool) server.Config {
	level := slog.LevelInfo
	if l.Quiet {
		level = slog.LevelWarn
	}
	return server.Config{Addr: l.Addr, DataDir: dir, PublicURL: l.PublicURL, TLSCert: l.Cert, TLSKey: l.Key, Demo: demo,
		Log: slog.New(slog.NewTextHandler(os.Stderr, &slog.HandlerOptions{Level: level}))}
}

// Run serves a shop until a signal comes.
func (c *serveCmd) Run(ctx context.Context) error {
	if err := lang.Use(c.Language); err != nil {
		return err
	}
	return run(ctx, c.config(c.Data, false), func(s *server.Server) {
		fmt.Println("Serving at", s.URL())
		if link := s.SetUpURL(); link != "" {
			fmt.Println("Nobody can sign in yet. This link makes the first account, once:")
			fmt.Println(" ", link)
		}
	})
}

// Run serves the demo until a signal comes.
func (c *demoCmd) Run(ctx context.Context) error {
	if err := lang.Use(c.Language); err != nil {
		return err
	}
	dir := c.Data
	if dir == "" {
		scratch, err := os.MkdirTemp("", "strutcard-demo-")
		if err != nil {
			return fmt.Errorf("make scratch folder: %w", err)
		}
		defer func() { _ = os.RemoveAll(scratch) }() // invented data only
		dir = scratch
	}
	return run(ctx, c.config(dir, true), func(s *server.Server) {
		d := s.Demo()
		fmt.Println("Everything here is invented. Never use its numbers on a real car.")
		fmt.Println("  Phone: ", s.InvitationURL())
		fmt.Println("  Shop:  ", s.URL()+"/shop")
		fmt.Println("  Name:    ", d.Name)
		fmt.Println("  Password:", d.Password)
	})
}

// run starts a server, says how to reach it, and waits for the end.
func run(ctx context.Context, cfg server.Config, say func(*server.Server)) error {
	s, err := server.New(cfg)
	if err != nil {
		return err
	}
	if _, err := pwa.Version(); err != nil {
		fmt.Fprintln(os.Stderr, "strutcard: the shop's pages work, but", err)
	}
	return s.RunAnd(ctx, func() { say(s) })
}

// Run prints what this program was built from.
func (versionCmd) Run() error {
	version, revision := "unknown", ""
	if info, ok := debug.ReadBuildInfo(); ok {
		version = info.Main.Version
		for _, s := range info.Settings {
			if s.Key == "vcs.revision" {
				revision = " " + s.Value
			}
		}
	}
	app, err := pwa.Version()
	if err != nil {
		app = "not built"
	}
	fmt.Printf("strutcard %s%s, app %s\n", version, revision, app)
	return nil
}
