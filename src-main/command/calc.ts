import { calcVerb } from './calc-verb.ts';

/** Far more than any input needs; a pipe that never ends must not fill the memory. */
const longestInput = 16 * 1024 * 1024;

/** All of standard input; nothing when it is a terminal, where waiting would look like a hang. */
async function readStandardInput(): Promise<string> {
  if (process.stdin.isTTY) return '';
  process.stdin.setEncoding('utf8');
  let input = '';
  for await (const chunk of process.stdin) {
    input += String(chunk);
    if (input.length > longestInput) break;
  }
  return input;
}

const { text, exitCode } = await calcVerb(process.argv.slice(2), readStandardInput);
process.exitCode = exitCode;
process.stdout.write(text);
