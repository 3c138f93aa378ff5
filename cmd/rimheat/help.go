package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// newHelp is the verb "help", the long way to write --help.
func newHelp(s streams) *cobra.Command {
	return &cobra.Command{
		Use:   "help [VERB]",
		Short: "Explain a verb",
		RunE: func(c *cobra.Command, args []string) error {
			target, rest, err := c.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return noSuchVerb(c.Root(), args)
			}
			printHelp(s.out, target)
			return nil
		},
	}
}

// printHelp prints the help of a verb or of the program.
func printHelp(w io.Writer, c *cobra.Command) {
	c.InitDefaultHelpFlag()
	c.InitDefaultVersionFlag()
	about := c.Long
	if about == "" {
		about = c.Short
	}
	fmt.Fprintf(w, "%s\n\nUsage\n  %s\n", strings.TrimRight(about, "\n"), usageLine(c))
	if c.Example != "" {
		fmt.Fprintf(w, "\nExamples\n%s\n", c.Example)
	}
	verbsHelp(w, c)
	flagsHelp(w, c)
	if !c.HasParent() || c.Name() == "assess" {
		fmt.Fprintf(w, "\nExit codes\n%s", exitCodes)
	}
	if c.Name() == "rig" {
		fmt.Fprintf(w, "\nExit codes\n%s", rigExitCodes)
	}
}

func usageLine(c *cobra.Command) string {
	line := c.CommandPath()
	if _, args, ok := strings.Cut(c.Use, " "); ok {
		line += " " + args
	}
	if c.HasAvailableSubCommands() {
		line += " VERB"
	}
	return line + " [FLAGS]"
}

func verbsHelp(w io.Writer, c *cobra.Command) {
	t := table{wrapLast: true}
	for _, v := range c.Commands() {
		if v.IsAvailableCommand() || v.Name() == "help" {
			t.row(v.Name(), v.Short)
		}
	}
	if len(t.rows) > 0 {
		fmt.Fprintf(w, "\nVerbs\n")
		t.print(w, "  ")
	}
}

// flagsHelp prints the flags by group, in the order that they were made.
func flagsHelp(w io.Writer, c *cobra.Command) {
	var groups []string
	tables := map[string]*table{}
	c.LocalFlags().VisitAll(func(f *pflag.Flag) {
		if f.Hidden {
			return
		}
		group, value := "Flags", ""
		if n := f.Annotations[groupNote]; len(n) > 0 {
			group, value = n[0], f.Annotations[valueNote][0]
		}
		if tables[group] == nil {
			groups = append(groups, group)
			tables[group] = &table{wrapLast: true}
		}
		tables[group].row(strings.TrimSpace("--"+f.Name+" "+value), f.Usage)
	})
	width := 0
	for _, g := range groups {
		for _, r := range tables[g].rows {
			width = max(width, runes(r[0]))
		}
	}
	for _, g := range groups {
		fmt.Fprintf(w, "\n%s\n", g)
		tables[g].least = []int{width}
		tables[g].print(w, "  ")
	}
}
