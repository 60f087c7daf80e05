import { isIP, isIPv4 } from 'node:net';
import { domainToASCII } from 'node:url';
import { type Read, refuse } from '../terminal/terminal-command.js';

const label = /^[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?$/;
/** RFC 1035, section 2.3.4, without the length octets of the wire. */
const nameLengthMax = 253;

/** The server's own machine reaches it by these whatever else it is called. */
export const namesOfThisMachine = ['localhost', '127.0.0.1', '::1'] as const;

/** Reads `workshop.local,192.168.1.20`: names in lower case and ASCII, addresses in their shortest form, each once. */
export function readHostNames(text: string): Read<string[]> {
  const names: string[] = [];
  for (const word of text.split(',').map((each) => each.trim())) {
    const name = readHostName(word);
    if (!name.ok) return name;
    if (!names.includes(name.value)) names.push(name.value);
  }
  return { ok: true, value: names };
}

function readHostName(word: string): Read<string> {
  if (isIP(word)) return readAddress(word);
  const name = domainToASCII(word).replace(/\.$/, '');
  const fits = name.length <= nameLengthMax && name.split('.').every((each) => label.test(each));
  // The converter takes 1.2 for the address 1.0.0.2, which nobody means.
  if (!fits || isIP(name))
    return refuse(
      `"${word}" is neither a name nor an address of this machine. Give what phones and tablets are to key, without https:// and port, for example --name stores.example,192.168.1.20`,
    );
  return { ok: true, value: name };
}

function readAddress(word: string): Read<string> {
  // An address of a link is good on that link alone and names it, which no certificate can.
  if (word.includes('%')) return refuse(`"${word}" is good on one cable only. Give an address without %.`);
  const address = isIPv4(word) ? word : new URL(`http://[${word}]`).hostname.slice(1, -1);
  if (address === '0.0.0.0' || address === '::')
    return refuse(`"${word}" stands for all addresses of this machine. Give the one by which phones and tablets reach it.`);
  return { ok: true, value: address };
}

/** Whether an authority that may vouch for `permitted` may vouch for `name`: the name itself, or one below it. */
export function isPermitted(name: string, permitted: readonly string[]): boolean {
  return permitted.some((each) => name === each || (!isIP(name) && !isIP(each) && name.endsWith(`.${each}`)));
}
