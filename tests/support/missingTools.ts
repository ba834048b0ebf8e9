/** Says at the end of a run which programs were missing, and so what was not tested. */
import { missingLine, TOOLS, type ToolName, toolCommand } from './tools.ts';

export default function setup(): () => void {
  const missing = (Object.keys(TOOLS) as ToolName[]).filter((name) => toolCommand(name) === null);
  return () => {
    for (const name of missing) process.stderr.write(`${missingLine(name)}\n`);
  };
}
