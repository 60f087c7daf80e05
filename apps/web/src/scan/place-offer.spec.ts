import { offerOf } from './place-offer.js';

const place = (id: string, detail: string) => ({ id, code: 'P00000125', name: `${detail} ${id}`, detail });

describe('a place that is scanned after another', () => {
  it('may have been meant as all that lies in it, or as itself', () => {
    const offer = offerOf(place('7', 'bin'), place('3', 'rack'), '12 things');
    expect(offer?.choices.map(({ words }) => words)).toEqual([
      'Everything that lies in bin 7 (12 things) goes to rack 3',
      'bin 7 itself is carried to rack 3',
    ]);
    expect(offer?.choices.map(({ command }) => command.body)).toMatchObject([
      { fromPlaceId: '7', toPlaceId: '3' },
      { parentId: '3' },
    ]);
  });
  it('is nothing but the next place where it is the first, the same, or empty and larger', () => {
    expect(offerOf(place('7', 'bin'), null, '12 things')).toBeNull();
    expect(offerOf(place('7', 'bin'), place('7', 'bin'), '12 things')).toBeNull();
    expect(offerOf(place('3', 'rack'), place('7', 'bin'), '0 things')).toBeNull();
  });
  it('never offers what lies in a job’s tray, and says why', () => {
    const offer = offerOf(place('9', 'tray'), place('3', 'rack'), '4 things');
    expect(offer?.choices.map(({ words }) => words)).toEqual(['tray 9 itself is carried to rack 3']);
    expect(offer?.barred).toMatch(/claimed by the job/);
  });
});
