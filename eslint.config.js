import globals from 'globals';
import ts from 'typescript-eslint';

// Lets TypeScript itself read components, so that one program holds them all as they are linted. Without it, every
// component that is opened changes the program and has everything it imports worked out again: five times as long.
process.env.SVELTE_ESLINT_PARSER_EXPERIMENTAL_TS_SYS_HOOK = '1';
const { default: svelte } = await import('eslint-plugin-svelte');

/** A module with runes as it is written, and what the rules for Svelte ask of it: its runes are declared for all. */
const moduleParser = {
  ...ts.parser,
  parseForESLint: (code, options) => {
    const parsed = ts.parser.parseForESLint(code, options);
    Object.assign(parsed.services, { isSvelte: false, isSvelteScript: true, svelteParseContext: { runes: true } });
    return parsed;
  },
};

const hostWords = [
  'console',
  'process',
  'window',
  'document',
  'setTimeout',
  'setInterval',
  'performance',
  'fetch',
  'crypto',
];

export default ts.config(
  { ignores: ['out/', 'dist/', 'node_modules/', '**/*.cjs', '.cache/'] },
  {
    files: ['**/*.ts', '**/*.svelte'],
    extends: [...ts.configs.recommendedTypeChecked],
    languageOptions: {
      parserOptions: { projectService: true, extraFileExtensions: ['.svelte'], tsconfigRootDir: import.meta.dirname },
    },
    rules: {
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-non-null-assertion': 'error',
      '@typescript-eslint/triple-slash-reference': ['error', { lib: 'never', path: 'never', types: 'never' }],
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': ['error', { considerDefaultExhaustiveForUnions: true }],
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true, allowBoolean: true }],
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      'no-restricted-syntax': [
        'error',
        { selector: 'TSEnumDeclaration', message: 'Use a union of strings.' },
        { selector: 'ExportAllDeclaration', message: 'No barrel files: import from the file that defines it.' },
      ],
      eqeqeq: 'error',
    },
  },
  {
    files: ['src-shared/**/*.ts'],
    rules: {
      'no-restricted-globals': [
        'error',
        ...hostWords.map((name) => ({ name, message: 'src-shared is pure: pass it in.' })),
      ],
      'no-restricted-properties': [
        'error',
        { object: 'Math', property: 'random', message: 'src-shared is pure: pass a generator in.' },
        { object: 'Date', property: 'now', message: 'src-shared reads no clock: pass the time in.' },
      ],
      'no-restricted-syntax': [
        'error',
        { selector: 'TSEnumDeclaration', message: 'Use a union of strings.' },
        { selector: 'ExportAllDeclaration', message: 'No barrel files.' },
        { selector: "NewExpression[callee.name='Date'][arguments.length=0]", message: 'src-shared reads no clock.' },
        { selector: "CallExpression[callee.name='Date']", message: 'src-shared reads no clock.' },
      ],
    },
  },
  {
    files: ['src-*/**/*.ts', 'src-*/**/*.svelte'],
    rules: {
      '@typescript-eslint/consistent-type-assertions': ['error', { assertionStyle: 'never' }],
    },
  },
  {
    // The layer rules read components as compiled, where imports of types are gone; this reads them as written.
    files: ['src-renderer/**/*.ts', 'src-renderer/**/*.svelte'],
    rules: {
      'no-restricted-imports': [
        'error',
        {
          patterns: [
            { regex: '^node:|/src-main/|/test/', message: 'The page knows the contract, not what is behind it.' },
          ],
        },
      ],
    },
  },
  ...svelte.configs['flat/recommended'],
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { globals: globals.browser, parserOptions: { parser: ts.parser } },
    rules: {
      'svelte/no-at-html-tags': 'error',
      'svelte/require-each-key': 'error',
      'svelte/no-navigation-without-resolve': 'off',
      // State classes keep maps that nothing draws from, on purpose.
      'svelte/prefer-svelte-reactivity': 'off',
      // `$props()` is taken apart with `let` as long as one part of it is bindable.
      'prefer-const': 'off',
      'svelte/prefer-const': ['error', { destructuring: 'all' }],
    },
  },
  { files: ['**/*.svelte.ts'], languageOptions: { parser: moduleParser } },
  {
    files: ['**/*.mjs', 'eslint.config.js'],
    languageOptions: { globals: globals.node },
    rules: { 'no-undef': 'error', 'no-unused-vars': 'error', 'prefer-const': 'error', eqeqeq: 'error' },
  },
  {
    files: ['test/**/*.ts'],
    rules: { '@typescript-eslint/no-unsafe-assignment': 'off', '@typescript-eslint/no-unsafe-member-access': 'off' },
  },
);
