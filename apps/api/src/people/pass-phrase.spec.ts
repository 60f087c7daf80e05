import { hashPassPhrase, isRightPassPhrase } from './pass-phrase.js';

const passPhrase = 'thirty-nine teeth on the crown wheel';

describe('pass phrases', () => {
  it('are hashed by Argon2id with 19 MiB, two passes and one lane, each with a salt of its own', async () => {
    const [first, second] = await Promise.all([hashPassPhrase(passPhrase), hashPassPhrase(passPhrase)]);
    expect(first).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
    expect(first).not.toBe(second);
  });

  it('are right or wrong, and never right where none is stored', async () => {
    const stored = await hashPassPhrase(passPhrase);
    await expect(isRightPassPhrase(stored, passPhrase)).resolves.toBe(true);
    await expect(isRightPassPhrase(stored, `${passPhrase} `)).resolves.toBe(false);
    await expect(isRightPassPhrase(null, passPhrase)).resolves.toBe(false);
  });

  it('are the same however a keyboard puts an accent together', async () => {
    const stored = await hashPassPhrase('roue dente\u0301e de quarante');
    await expect(isRightPassPhrase(stored, 'roue dent\u00e9e de quarante')).resolves.toBe(true);
  });

  it('take as long to refuse for an unknown name as for a known one', async () => {
    const stored = await hashPassPhrase(passPhrase);
    await isRightPassPhrase(null, 'warm up');
    const times: Record<'known' | 'unknown', number[]> = { known: [], unknown: [] };
    for (let round = 0; round < 9; round += 1) {
      times.known.push(await timeOf(() => isRightPassPhrase(stored, 'not the one')));
      times.unknown.push(await timeOf(() => isRightPassPhrase(null, 'not the one')));
    }
    // Without the second hash the ratio is a thousand; other work on the machine moves it by a little.
    const ratio = medianOf(times.known) / medianOf(times.unknown);
    expect(ratio).toBeGreaterThan(0.4);
    expect(ratio).toBeLessThan(2.5);
  });
});

async function timeOf(work: () => Promise<unknown>): Promise<number> {
  const started = performance.now();
  await work();
  return performance.now() - started;
}

function medianOf(values: number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)]!;
}
