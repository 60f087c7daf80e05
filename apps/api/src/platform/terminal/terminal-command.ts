import { type ParseArgsConfig, parseArgs } from 'node:util';

type Options = NonNullable<ParseArgsConfig['options']>;

/** What a person keyed, understood; or what is wrong with it, in words. */
export type Read<T> = { ok: true; value: T } | { ok: false; words: string };

/** One thing that the program can be asked for at a terminal, such as `serve`. */
export interface TerminalCommand {
  /** its words, for the help */
  usage: string;
  /** Understands the words after its name, and gives back what is then to be done. */
  read(words: string[], environment: NodeJS.ProcessEnv): Read<() => Promise<void>>;
}

type Keyed<Known extends Options> = ReturnType<
  typeof parseArgs<{ args: string[]; options: Known; strict: true; allowPositionals: false }>
>['values'];

interface Parts<Known extends Options, Line> {
  usage: string;
  options: Known;
  read(keyed: Keyed<Known>, environment: NodeJS.ProcessEnv): Read<Line>;
  /** @throws Error with a sentence for the person where it cannot be done */
  run(line: Line): Promise<void>;
}

export function terminalCommand<Known extends Options, Line>(parts: Parts<Known, Line>): TerminalCommand {
  return {
    usage: parts.usage,
    read: (words, environment) => {
      const keyed = keyedOf(words, parts.options);
      if (!keyed.ok) return refuse(`${keyed.words}\n\n  ${parts.usage}`);
      const line = parts.read(keyed.value, environment);
      return line.ok ? { ok: true, value: () => parts.run(line.value) } : line;
    },
  };
}

function keyedOf<Known extends Options>(words: string[], options: Known): Read<Keyed<Known>> {
  try {
    return { ok: true, value: parseArgs({ args: words, options, strict: true, allowPositionals: false }).values };
  } catch (error) {
    return refuse((error as Error).message);
  }
}

export function refuse(words: string): { ok: false; words: string } {
  return { ok: false, words };
}

/** What a person asked to see goes to standard output; the log goes to the other stream. */
export function say(words: string): void {
  process.stdout.write(`${words}\n`);
}
