/** It comes without types. */
declare module 'jstat' {
  const library: unknown;
  export default library;
}
