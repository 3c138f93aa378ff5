package main

import (
	"bytes"
	"slices"

	"github.com/spf13/cobra"
)

// shells lists the shells that a completion script can be made for.
func shells() []string { return []string{"bash", "zsh", "fish", "powershell"} }

func newCompletion(s streams) *cobra.Command {
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "Print the script that completes verbs, flags and names in a shell",
		Long: `Prints the script with which bash, zsh, fish or powershell completes the verbs,
flags and built-in names of rimheat. Load it once to try it, or put it where
the shell looks for such scripts at its start.`,
		Example: `  rimheat completion bash
  rimheat completion fish`,
		Args: func(_ *cobra.Command, args []string) error {
			switch {
			case len(args) == 0:
				return badInput("no shell named").hint("choose from %s", listed(shells()))
			case len(args) > 1:
				return badInput("one shell at a time, but there is also %s", quoted(args[1]))
			case !slices.Contains(shells(), args[0]):
				return notOneOf("completion", "shell", args[0], shells())
			}
			return nil
		},
		ValidArgsFunction: cobra.FixedCompletions(shells(), cobra.ShellCompDirectiveNoFileComp),
		RunE: func(c *cobra.Command, args []string) error {
			var b bytes.Buffer
			var err error
			root := c.Root()
			switch args[0] {
			case "bash":
				err = root.GenBashCompletionV2(&b, true)
			case "zsh":
				err = root.GenZshCompletion(&b)
			case "fish":
				err = root.GenFishCompletion(&b, true)
			case "powershell":
				err = root.GenPowerShellCompletionWithDesc(&b)
			}
			if err != nil {
				return failed("completion %s: %s", args[0], err)
			}
			return write(s, b.Bytes())
		},
	}
}
