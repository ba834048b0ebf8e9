/** What is wrong with a command line, in the words of the table: commander has its own sentences in English only. */
import type { CommanderError } from 'commander';
import { words } from '../words/language.ts';

/**
 * The line for a person, ended; with a suggestion on the next where commander has one. Nothing where commander has
 * shown help in place of an error.
 */
export function usageError({ code, message }: CommanderError): string {
  if (code === 'commander.help') return '';
  const { usage } = words().messages.cli;
  const [line = '', suggestion] = message.split('\n(');
  const [quoted = ''] = /(?<=').*(?=')/.exec(line) ?? [];
  const [expected = '', given = ''] = line.match(/\d+/g)?.slice(-2) ?? [];
  const sentence = {
    'commander.missingArgument': usage.missingArgument(quoted),
    'commander.optionMissingArgument': usage.missingValue(quoted),
    'commander.missingMandatoryOptionValue': usage.missingOption(quoted),
    'commander.unknownOption': usage.unknownOption(quoted),
    'commander.unknownCommand': usage.unknownCommand(quoted),
    'commander.excessArguments': usage.tooMany(quoted, expected, given),
  }[code];
  const [, several, names = ''] = /^Did you mean (one of )?(.*)\?\)$/.exec(suggestion ?? '') ?? [];
  const said = [sentence ?? message];
  if (sentence !== undefined && names !== '')
    said.push(several === undefined ? usage.didYouMean(names) : usage.didYouMeanOneOf(names));
  return `${said.join('\n')}\n`;
}
