package main

import (
	"bytes"
	_ "embed"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"
)

// demoJob is the job the demo writes and plans.
//
//go:embed demo/kiosk.yaml
var demoJob []byte

// demoDir is where the demo puts everything.
const demoDir = "panelyard-demo"

// demoRounds is a budget that makes the demo wait for no more than a second or two;
// the usual one finds hardly better plans of its job.
const demoRounds = 100

func demoCommand(s streams) *cobra.Command {
	return &cobra.Command{
		Use:   "demo",
		Short: "Write a demo job, plan it for saw and router, and say where to look",
		Long: `Write the job file of a museum kiosk into the folder panelyard-demo, plan it for a
saw and for a router, and write all papers beside it. A job file there that you
changed is left as it is and planned as you wrote it.`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			file, err := writeDemo(s)
			if err != nil {
				return err
			}
			for _, cut := range []string{"saw", "router"} {
				f := planFlags{cut: cut, out: filepath.Join(demoDir, cut), seed: 1, rounds: demoRounds, threads: 2, papers: usualPapers()}
				if err := planJob(c.Context(), s, file, f); err != nil {
					return err
				}
			}
			s.say("the job is %s: change it and run the demo again", file)
			s.say("its variants and both ways to cut side by side: panelyard compare %s", file)
			return nil
		},
	}
}

// writeDemo writes the demo job unless it is there, and returns its path.
func writeDemo(s streams) (string, error) {
	if err := os.MkdirAll(demoDir, 0o755); err != nil {
		return "", err
	}
	file := filepath.Join(demoDir, "kiosk.yaml")
	old, err := os.ReadFile(file)
	switch {
	case err == nil && bytes.Equal(old, demoJob):
		return file, nil
	case err == nil:
		s.note("%s was changed; it is planned as it is", file)
		return file, nil
	case !errors.Is(err, fs.ErrNotExist):
		return "", err
	}
	return file, replaceAll(output{file: file, what: "job file", data: demoJob})
}
