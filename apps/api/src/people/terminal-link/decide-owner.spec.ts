import { decideOwner } from './decide-owner.js';

const edie = { id: '1', displayName: 'Edie Marrack', signInName: 'edie' };
const wilf = { id: '2', displayName: 'Wilf Peskett', signInName: 'wilf' };

describe('the owner whom a link at the terminal is for', () => {
  it('is the only one, named or not', () => {
    expect(decideOwner([edie], null)).toEqual({ ok: true, value: edie });
    expect(decideOwner([edie], 'edie')).toEqual({ ok: true, value: edie });
  });

  it('is the named one of several', () => {
    expect(decideOwner([edie, wilf], 'wilf')).toEqual({ ok: true, value: wilf });
  });

  it('must be named where there are several', () => {
    expect(decideOwner([edie, wilf], null)).toMatchObject({ ok: false, words: expect.stringContaining('one of edie, wilf.') });
  });

  it('is nobody else', () => {
    expect(decideOwner([edie], 'tom')).toMatchObject({ ok: false, words: expect.stringContaining('"tom" is not') });
    expect(decideOwner([], null)).toMatchObject({ ok: false });
  });
});
