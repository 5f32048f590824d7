/** A file's text, put into the bundle by the build. */
declare module '*.sql?raw' {
  const text: string;
  export default text;
}
