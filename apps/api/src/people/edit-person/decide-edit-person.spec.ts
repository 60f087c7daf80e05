import { decideEditPerson } from './decide-edit-person.js';

const edie = { id: 'edie', active: true, displayName: 'Edie Marrack' };
const asOwner = { displayName: 'Edie Marrack', role: 'owner' as const, active: true };

describe('whether a person may be changed', () => {
  it('keeps the only owner an owner and active', () => {
    for (const change of [
      { ...asOwner, role: 'stores' as const },
      { ...asOwner, active: false },
    ])
      expect(decideEditPerson(edie, change, ['edie'])).toMatchObject({ ok: false, error: { code: 'last-owner' } });
  });

  it('lets the only owner take another name', () => {
    expect(decideEditPerson(edie, { ...asOwner, displayName: 'E. Marrack' }, ['edie'])).toEqual({
      ok: true,
      value: { shutOut: false },
    });
  });

  it('lets an owner go while another stays', () => {
    expect(decideEditPerson(edie, { ...asOwner, active: false }, ['edie', 'wilf'])).toEqual({
      ok: true,
      value: { shutOut: true },
    });
  });

  it('switches anybody else off, though there is one owner', () => {
    const tom = { id: 'tom', active: true, displayName: 'Tom Hasleby' };
    const change = { displayName: 'Tom Hasleby', role: 'bench' as const, active: false };
    expect(decideEditPerson(tom, change, ['edie'])).toEqual({ ok: true, value: { shutOut: true } });
  });

  it('shuts nobody out who was switched off already', () => {
    const off = { id: 'tom', active: false, displayName: 'Tom Hasleby' };
    const change = { displayName: 'Tom Hasleby', role: 'bench' as const, active: false };
    expect(decideEditPerson(off, change, ['edie'])).toEqual({ ok: true, value: { shutOut: false } });
  });
});
