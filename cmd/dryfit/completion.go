package main

import (
	"strings"

	"github.com/spf13/cobra"

	"dryfit/layout/rules"
	"dryfit/shapes"
)

func newCompletion(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "Print what a shell needs to complete verbs, flags, parts and rules",
		Long: `Prints a script for bash, zsh, fish or powershell that completes verbs, flags, build files,
and the names of parts and rules.`,
		Example: `  source <(dryfit completion bash)                        this session
  dryfit completion zsh > "${fpath[1]}/_dryfit"           every zsh session
  dryfit completion fish > ~/.config/fish/completions/dryfit.fish`,
		ValidArgs: shells(),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 {
				return unusable("dryfit: completion takes the name of one shell: %s", strings.Join(shells(), ", "))
			}
			root := cmd.Root()
			switch args[0] {
			case "bash":
				return root.GenBashCompletionV2(e.out, true)
			case "zsh":
				return root.GenZshCompletion(e.out)
			case "fish":
				return root.GenFishCompletion(e.out, true)
			case "powershell":
				return root.GenPowerShellCompletionWithDesc(e.out)
			}
			return unusable("dryfit: %q is not a shell that this can serve%s\nshells: %s", args[0], guess(args[0], shells()), strings.Join(shells(), ", "))
		},
	}
}

func shells() []string { return []string{"bash", "zsh", "fish", "powershell"} }

type completer = func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective)

// buildFiles completes the one build file that a verb takes.
func buildFiles(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
}

// firstWord completes the first word after a verb from a list.
func firstWord(list func() []string) completer {
	return func(_ *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		var out []string
		for _, w := range list() {
			if strings.HasPrefix(w, begun) {
				out = append(out, w)
			}
		}
		return out, cobra.ShellCompDirectiveNoFileComp
	}
}

// words completes the value of a flag.
func words(cmd *cobra.Command, flag string, list ...string) {
	if err := cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(list, cobra.ShellCompDirectiveNoFileComp)); err != nil {
		panic(err) // a flag that the verb does not have: a fault of ours
	}
}

// partWords lists the catalogue as "name<tab>title", which shells show beside each other.
func partWords() []string {
	lib, err := shapes.Builtin()
	if err != nil {
		return nil
	}
	var out []string
	for _, l := range lib.List() {
		out = append(out, l.Name+"\t"+l.Title)
	}
	return out
}

func kindWords() []string {
	lib, err := shapes.Builtin()
	if err != nil {
		return nil
	}
	return kinds(lib.List())
}

func ruleWords() []string {
	var out []string
	for _, r := range rules.All {
		out = append(out, r.Name+"\t"+r.Question)
	}
	return out
}
