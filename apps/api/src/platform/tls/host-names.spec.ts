import { isPermitted, readHostNames } from './host-names.js';

describe('the names of a server', () => {
  it.each([
    ['workshop.local', ['workshop.local']],
    [' Stores.Example , 192.168.1.20,stores.example', ['stores.example', '192.168.1.20']],
    ['stores.example.', ['stores.example']],
    ['bücher.example', ['xn--bcher-kva.example']],
    ['FD00:0:0::0:20', ['fd00::20']],
  ])('are read from %s', (text, names) => {
    expect(readHostNames(text)).toEqual({ ok: true, value: names });
  });

  it.each([
    '',
    'a,,b',
    'https://stores.example',
    'stores.example:4780',
    '*.example',
    'a b',
    '-a.example',
    '1.2',
    `${'a'.repeat(64)}.example`,
  ])('are not read from "%s"', (text) => {
    expect(readHostNames(text)).toMatchObject({ ok: false, words: expect.stringContaining('neither a name nor an address') });
  });

  it.each(['0.0.0.0', '::', '0::0'])('are not %s, which nobody can reach', (text) => {
    expect(readHostNames(text)).toMatchObject({ ok: false, words: expect.stringContaining('all addresses') });
  });

  it('are not an address of one cable', () => {
    expect(readHostNames('fe80::1%eth0')).toMatchObject({ ok: false, words: expect.stringContaining('one cable') });
  });
});

describe('what an authority may vouch for', () => {
  const permitted = ['stores.example', '192.168.1.20'];
  it.each([
    ['stores.example', true],
    ['bench.stores.example', true],
    ['192.168.1.20', true],
    ['example', false],
    ['otherstores.example', false],
    ['192.168.1.2', false],
  ])('%s: %s', (name, expected) => {
    expect(isPermitted(name, permitted)).toBe(expected);
  });
});
