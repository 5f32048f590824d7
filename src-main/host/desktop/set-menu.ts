import type { BrowserWindow } from 'electron';
import { failed, type Outcome } from '../../../src-shared/contract/failure.ts';
import type { Services } from '../service.ts';
import { menuOf } from './menu.ts';
import type { Paper } from './paper.ts';
import type { Shell } from './shell.ts';

export interface MenuParts {
  readonly shell: Pick<Shell, 'Menu' | 'dialog' | 'openPath'>;
  readonly platform: string;
  readonly folder: string;
  readonly paper: Paper;
  readonly window: () => BrowserWindow | undefined;
  /** What can be asked of the program; null while it is beginning again. */
  readonly services: () => Services | null;
}

/** Gives the program its menu. What an item cannot do is said in a box of its own. */
export function setMenu({ shell, platform, folder, paper, window, services }: MenuParts): void {
  const complain = (outcome: Outcome<unknown>) => {
    if (!outcome.ok) shell.dialog.showErrorBox('Turnwright', outcome.failure.message);
  };
  const powerIsOff = async () => {
    // Taken whatever revision it names.
    const said = await services()?.['guard.send']({ revision: 0, command: { kind: 'power-off' } });
    complain(
      said ?? failed('no-connection', 'The program is beginning again: nothing is known. Switch off at the plug.'),
    );
  };
  const onPaper = (act: (window: BrowserWindow) => Promise<Outcome<unknown>>) => () => {
    const shown = window();
    if (shown !== undefined) void act(shown).then(complain);
  };
  const acts = {
    powerIsOff: () => void powerIsOff(),
    print: onPaper((shown) => paper.print(shown)),
    savePdf: onPaper((shown) => paper.savePdf(shown, shown.getTitle())),
    openDataFolder: () => void shell.openPath(folder),
  };
  shell.Menu.setApplicationMenu(shell.Menu.buildFromTemplate(menuOf(acts, platform === 'darwin')));
}
