import { bridgeWire, desktopForTest } from '../main/host/desktop/desktop-for-test.ts';
import { contractSuite, type Wiring } from './suite.ts';

/** The whole program behind the desktop host, a window for every connection, through the built preload script. */
async function openDesktop(): Promise<Wiring> {
  const desktop = await desktopForTest();
  return {
    connect: async () => bridgeWire((await desktop.open()).page),
    push(push) {
      desktop.push(push);
    },
    bugs: () => desktop.log,
    async restart() {
      await desktop.running?.beginAgain();
    },
    close: () => desktop.close(),
  };
}

contractSuite('desktop host', openDesktop);
