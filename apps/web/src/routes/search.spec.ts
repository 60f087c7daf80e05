import { oneText, pathWithin } from './search.js';

describe('where to go after signing in', () => {
  it.each(['/jobs/1?line=2', '/bench'])('goes back to %s', (path) => expect(pathWithin(path)).toBe(path));
  it.each([
    undefined,
    '',
    'https://elsewhere.example/',
    '//elsewhere.example',
    '/\\elsewhere.example',
    '/sign-in?return=/sign-in',
  ])('goes to Today rather than to %s', (path) => expect(pathWithin(path)).toBe('/'));
});

describe('a text of the address', () => {
  it('is taken as text even where it looks like a number', () => {
    expect(oneText({ q: 219 }, 'q')).toEqual({ q: '219' });
    expect(oneText({ q: 'hub' }, 'q')).toEqual({ q: 'hub' });
    expect(oneText({ q: ['a'] }, 'q')).toEqual({});
  });
});
