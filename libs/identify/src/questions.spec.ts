import { type KnownType, nothingRead, type Sign } from './known-type.js';
import { questionsFor } from './questions.js';
import { rankTypes } from './rank-types.js';

const sign = (kind: Sign['kind'], question: string, pattern = ''): Sign => ({
  kind,
  position: kind === 'count' ? question : '',
  pattern,
  yearFirst: null,
  yearLast: null,
  words: kind === 'feature' ? question : '',
  weight: 'decisive',
});
const type = (name: string, ...signs: Sign[]): KnownType => ({
  id: name,
  name,
  maker: 'Dunmarrow',
  signs,
  serials: [],
  gears: [],
});
const types = [
  type('S11', sign('count', 'studs', '12'), sign('feature', 'a round nose piece')),
  type('S9', sign('count', 'studs', '10'), sign('feature', 'a drain at the rear'), sign('stamp', '', 'S9 *')),
];

it('asks first what tells most types apart, and nothing of stamps', () => {
  const asked = questionsFor(types, rankTypes(types, nothingRead), nothingRead);
  expect(asked.map(({ question }) => question)).toEqual(['studs', 'a round nose piece', 'a drain at the rear']);
  expect(asked[0]?.types).toEqual(['S11', 'S9']);
});

it('asks no more of what is ruled out, and keeps what was answered', () => {
  const reading = { ...nothingRead, counts: { studs: 10 } };
  const asked = questionsFor(types, rankTypes(types, reading), reading);
  expect(asked.map(({ question }) => question)).toEqual(['studs', 'a drain at the rear']);
});
