import type { Sign } from './known-type.js';

type Looked = Pick<Sign, 'kind' | 'position' | 'pattern' | 'words'>;
export interface Lack {
  field: 'position' | 'pattern' | 'words';
  /** what to key instead */
  sentence: string;
}

/** What a sign lacks of what it is looked for by; empty where nothing. */
export function lacksOfSign({ kind, position, pattern, words }: Looked): Lack[] {
  const lacks: Lack[] = [];
  if (kind === 'feature' && words === '')
    lacks.push({ field: 'words', sentence: 'Say what to look for, so that somebody can answer yes or no.' });
  if (kind === 'count' && position === '')
    lacks.push({ field: 'position', sentence: 'Say what is counted, such as "studs on the nose piece".' });
  if (kind === 'count' && !/^\d{1,4}$/.test(pattern))
    lacks.push({ field: 'pattern', sentence: 'Key how many there are, as a whole number.' });
  if ((kind === 'stamp' || kind === 'casting') && !/[\p{L}\p{N}]/u.test(pattern))
    lacks.push({
      field: 'pattern',
      sentence: 'Key what stands there: "?" for any one character, "*" for any number of them, but not these alone.',
    });
  return lacks;
}
