/** `flatwright completion SHELL`: commands, options and files, for the shells people have. */
import type { Command } from 'commander';
import { type Done, GOOD, Leave, UNUSABLE } from './exit.js';
import type { Io } from './io.js';

interface Known {
  readonly name: string;
  readonly summary: string;
  readonly options: readonly string[];
}

const SHELLS: Readonly<Record<string, (commands: readonly Known[]) => string>> = {
  bash: (commands) => `_flatwright() {
  local word="\${COMP_WORDS[COMP_CWORD]}"
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W "${commands.map(({ name }) => name).join(' ')} help" -- "$word"))
    return
  fi
  local options=""
  case "\${COMP_WORDS[1]}" in
${commands.map(({ name, options }) => `    ${name}) options="${options.join(' ')}" ;;`).join('\n')}
  esac
  case "$word" in
    -*) COMPREPLY=($(compgen -W "$options" -- "$word")) ;;
    *) COMPREPLY=($(compgen -f -- "$word")) ;;
  esac
}
complete -o filenames -F _flatwright flatwright
`,
  zsh: (commands) => `autoload -U +X bashcompinit && bashcompinit
${SHELLS['bash']?.(commands) ?? ''}`,
  fish: (commands) =>
    commands
      .flatMap(({ name, summary, options }) => [
        `complete -c flatwright -n __fish_use_subcommand -a ${name} -d '${summary.replaceAll("'", '')}'`,
        ...options
          .filter((option) => option.startsWith('--'))
          .map(
            (option) =>
              `complete -c flatwright -n '__fish_seen_subcommand_from ${name}' -l ${option.slice(2)}`,
          ),
      ])
      .map((line) => `${line}\n`)
      .join(''),
};

export function completionCommand(command: Command, io: Io, done: Done): void {
  command
    .description('Prints what your shell needs to complete commands and options.')
    .addHelpText(
      'after',
      `
Examples:
  source <(flatwright completion bash)
  flatwright completion fish > ~/.config/fish/completions/flatwright.fish
`,
    )
    .action((shell: string) => {
      const script = SHELLS[shell];
      if (script === undefined)
        throw new Leave(UNUSABLE, `no completion for ${shell}; there is ${Object.keys(SHELLS).join(', ')}`);
      io.out(
        script(
          (command.parent?.commands ?? [])
            .filter((each) => each.name() !== 'help')
            .map((each) => ({
              name: each.name(),
              summary: each.summary(),
              options: each.options.flatMap(({ long }) => long ?? []),
            })),
        ),
      );
      done(GOOD);
    });
}
