package main

import (
	"context"
	"io"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"
)

// run is the program: arguments and streams in, exit code out. Results go to
// stdout, everything else to stderr. Long work ends soon after ctx is done.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	root := newRoot(streams{in: stdin, out: stdout, err: stderr})
	if args == nil {
		args = []string{} // nil would make the library read os.Args
	}
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	return report(stderr, root.ExecuteContext(ctx))
}

// streams are what a verb reads and writes.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// newRoot builds the command tree. Nothing in it is shared between two calls.
func newRoot(s streams) *cobra.Command {
	root := &cobra.Command{
		Use:     "rimheat",
		Version: version(),
		Short:   "How hot do the brakes make these rims on this road?",
		Long: `rimheat reads a planned route (GPX) and tells how hot the rims of a rim-braked
bicycle get on its descents, and whether each candidate rim stays within its
limit. Whatever is not given has a default that is printed as assumed.`,
		Example: `  rimheat assess ROUTE.gpx
  rimheat assess ROUTE.gpx --rider-kg 78 --air-temp 38 --style steady
  rimheat rig --rim carbon-deep --watts 300 --kmh 30
  rimheat parts`,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          cobra.ArbitraryArgs,
		RunE:          func(c *cobra.Command, args []string) error { return noSuchVerb(c, args) },
	}
	root.SetVersionTemplate("rimheat {{.Version}}\n")
	root.SetFlagErrorFunc(flagFailure)
	root.SetHelpFunc(func(c *cobra.Command, _ []string) { printHelp(s.out, c) })
	root.SetHelpCommand(newHelp(s))
	root.AddCommand(newAssess(s), newMargins(s), newPlan(s), newLearn(s), newRider(s), newRig(s), newParts(s), newCompletion(s))
	return root
}

// noSuchVerb words a first argument that is no verb, or none at all.
func noSuchVerb(root *cobra.Command, args []string) error {
	if len(args) == 0 {
		return badInput("no verb given").hint("to assess a route: rimheat assess ROUTE.gpx").hint("for everything else: rimheat --help")
	}
	var verbs []string
	for _, c := range root.Commands() {
		if !c.Hidden {
			verbs = append(verbs, c.Name())
		}
	}
	f := badInput("unknown verb %s", quoted(args[0]))
	if near := nearest(args[0], verbs); len(near) > 0 {
		return f.hint("did you mean %s?", either(near))
	}
	if strings.Contains(args[0], ".") {
		return f.hint("to assess a route: rimheat assess %s", args[0])
	}
	return f.hint("the verbs are %s", listed(verbs))
}

// version is the module's version, or the revision the binary was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "(unknown version)"
	}
	v := info.Main.Version
	if v == "" {
		v = "(devel)"
	}
	return v + ", built with " + info.GoVersion
}
