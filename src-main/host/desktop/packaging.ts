import type { Configuration } from 'electron-builder';

/** The modules that are not in the bundle, because they load what lies beside them; with all that they need in turn. */
const loaded = [
  'better-sqlite3/{package.json,LICENSE,lib/**/*.js}',
  'better-sqlite3/prebuilds/${platform}-${arch}.node',
  'serialport/**/*.{js,json}',
  '@serialport/**/*.{js,json}',
  '@serialport/bindings-cpp/prebuilds/${platform}-*${arch}*/*.node',
  '{debug,ms,node-gyp-build}/**/*.{js,json}',
  '!**/node-addon-api/**',
  '!**/{test,tests,__tests__,example,examples}/**',
  '!**/{tsconfig*.json,*.test.js,*.config.js}',
];

/**
 * How the program is packed for people to install: what goes in, and which doors of Electron are shut for good. Read by
 * the packager; the top of the repository is where its paths begin.
 */
const packaging: Configuration = {
  appId: 'turnwright.desktop',
  productName: 'Turnwright',
  copyright: 'MIT licence',
  directories: { output: 'dist' },
  files: [
    'out/main/{desktop,jobs-worker}.js',
    'out/main/chunks/**/*.js',
    // Of the other host, whose page server is no part of this one.
    '!out/main/chunks/local-program-*.js',
    'out/preload/preload.cjs',
    'out/renderer/**/*',
    'LICENSE',
    '!**/*.map',
    '!node_modules/**',
    { from: 'node_modules', to: 'node_modules', filter: loaded },
  ],
  asar: true,
  // The system loads a native module from a file of its own.
  asarUnpack: ['node_modules/better-sqlite3/**', 'node_modules/@serialport/bindings-cpp/**'],
  // Both come built for every system, over Node's stable interface.
  npmRebuild: false,
  electronFuses: {
    runAsNode: false,
    enableNodeOptionsEnvironmentVariable: false,
    enableNodeCliInspectArguments: false,
    enableEmbeddedAsarIntegrityValidation: true,
    onlyLoadAppFromAsar: true,
    grantFileProtocolExtraPrivileges: false,
    loadBrowserProcessSpecificV8Snapshot: false,
    // No cookie is ever set: nothing to encrypt, and no question for the key ring.
    enableCookieEncryption: false,
  },
  electronLanguages: ['en-US'],
  publish: null,
  linux: {
    target: ['AppImage', 'deb'],
    icon: 'src-renderer/public/favicon.svg',
    category: 'Science',
    synopsis: 'Bench log and calculator for rewinding transformers',
    maintainer: 'The Turnwright contributors <contributors@turnwright.example>',
  },
  // The older one writes a menu entry that switches Chromium's sandbox off.
  toolsets: { appimage: '1.0.3' },
  deb: { packageCategory: 'science' },
  mac: { target: 'dmg', category: 'public.app-category.utilities' },
  win: { target: 'nsis' },
  nsis: {
    oneClick: false,
    perMachine: false,
    allowToChangeInstallationDirectory: true,
    deleteAppDataOnUninstall: false,
  },
  extraMetadata: { homepage: 'https://turnwright.example' },
};

export default packaging;
