import { spawn } from 'node:child_process';

/** What opens an address in the person's browser on this system. */
export function browserOpener(platform: string): readonly [string, ...string[]] {
  if (platform === 'win32') return ['rundll32', 'url.dll,FileProtocolHandler'];
  return platform === 'darwin' ? ['open'] : ['xdg-open'];
}

/** Opens an address in the browser. When that cannot be done it says so in one line, and nothing else happens. */
export function openBrowser(
  url: string,
  [command, ...args]: readonly [string, ...string[]],
  say: (line: string) => void,
) {
  const apologise = (why: string) => {
    say(`No browser could be opened (${why}). Open the address above yourself.`);
  };
  const opener = spawn(command, [...args, url], { stdio: 'ignore', detached: true });
  opener.on('error', (error) => {
    apologise(error.message);
  });
  opener.on('exit', (code) => {
    if (code !== 0) apologise(`${command} ended with ${code ?? 'a signal'}`);
  });
  opener.unref();
}
