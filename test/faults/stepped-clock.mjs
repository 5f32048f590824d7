// Loaded into the program before its own code: moves the time of day by what the named file says, at each SIGUSR2.
import { readFileSync } from 'node:fs';

const now = Date.now.bind(Date);
let byMs = 0;
Date.now = () => now() + byMs;
process.on('SIGUSR2', () => {
  byMs = Number(readFileSync(process.env.TURNWRIGHT_TEST_CLOCK, 'utf8'));
});
