package main

import (
	"context"
	"fmt"
	"os"

	"strutcard/server"
)

type backupCmd struct {
	Data string `required:"" type:"path" help:"Folder of the server's data. The server may be running."`
	To   string `required:"" type:"path" help:"Folder to make. It must be empty or not there yet."`
}

type restoreCmd struct {
	From string `required:"" type:"path" help:"Folder that a backup made."`
	Data string `required:"" type:"path" help:"Folder to make for the server's data. It must be empty or not there yet."`
}

type rebuildCmd struct {
	Data string `required:"" type:"path" help:"Folder of the server's data. The server may be running."`
}

// Run copies the server's data.
func (c *backupCmd) Run(ctx context.Context) error {
	kept, err := server.Backup(ctx, c.Data, c.To)
	if err != nil {
		return err
	}
	say("Backed up", kept, c.To)
	fmt.Println("Whoever has this folder has the server's keys. Keep it safe, and on another disk.")
	return nil
}

// Run makes a data folder from a backup.
func (c *restoreCmd) Run(ctx context.Context) error {
	kept, err := server.Restore(ctx, c.From, c.Data)
	if err != nil {
		return err
	}
	say("Restored", kept, c.Data)
	fmt.Println("When the server runs again, each phone sends again what came after the backup.")
	fmt.Println("A phone or a link that was ended after the backup works again: look through Phones and the links of each job.")
	fmt.Println("So does an account or a password that was ended or changed, and a job that was deleted is back: end, change and delete them again.")
	return nil
}

// Run computes the queue anew.
func (c *rebuildCmd) Run(ctx context.Context) error {
	if err := server.Rebuild(ctx, c.Data); err != nil {
		return err
	}
	fmt.Println("The queue was computed anew from the record.")
	return nil
}

// say tells what was copied, and complains about photos that were not.
func say(done string, kept server.Kept, to string) {
	fmt.Printf("%s %d events and %d photos to %s\n", done, kept.Events, kept.Photos, to)
	for _, name := range kept.Damaged {
		fmt.Fprintln(os.Stderr, "strutcard: damaged, left out: photo", name)
	}
}
