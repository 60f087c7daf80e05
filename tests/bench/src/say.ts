/** Progress goes to standard error: standard output is for the figures. */
export function say(words: string): void {
  process.stderr.write(`${words}\n`);
}
