/** The words that commander puts into help by itself, from the table. */
import type { Command, HelpConfiguration } from 'commander';
import { words } from '../words/language.ts';

export function helpWords(): HelpConfiguration {
  const { help } = words().command;
  const titles: Readonly<Record<string, string>> = {
    'Usage:': help.titles.usage,
    'Arguments:': help.titles.arguments,
    'Options:': help.titles.options,
    'Commands:': help.titles.commands,
  };
  const argumentsOf = ({ registeredArguments }: Command): string[] =>
    registeredArguments.map((each) => {
      const name = `${each.name()}${each.variadic ? '...' : ''}`;
      return each.required ? `<${name}>` : `[${name}]`;
    });
  return {
    styleTitle: (title) => titles[title] ?? title,
    commandUsage: (command) =>
      [
        ...(command.parent === null ? [] : [command.parent.name()]),
        command.name(),
        // Every command has at least the option that prints its help.
        help.anyOption,
        ...(command.commands.length > 0 ? [help.anyCommand] : []),
        ...argumentsOf(command),
      ].join(' '),
    subcommandTerm: (command) =>
      [command.name(), ...(command.options.length > 0 ? [help.anyOption] : []), ...argumentsOf(command)].join(
        ' ',
      ),
    optionDescription: ({ description, defaultValue }) =>
      defaultValue === undefined ? description : help.byDefault(description, JSON.stringify(defaultValue)),
  };
}
