import { huntingOf, ratioOf, sayRatio } from '@corewright/gears/ratio';

it('has the ratio of 41 and 11 teeth as a published calculator of a maker of axles gives it: 3.7273 (spicerparts.com, gear ratio calculator)', () => {
  expect(sayRatio(ratioOf([{ driver: 11, driven: 41 }]), 4)).toBe('3.7273');
});

it('names ratios as axles are named by their teeth (common practice, from memory)', () => {
  const axles = {
    '3.545': [11, 39],
    '3.909': [11, 43],
    '4.1': [10, 41],
    '4.222': [9, 38],
    '4.556': [9, 41],
    '4.875': [8, 39],
    '5.125': [8, 41],
  };
  for (const [name, [driver, driven]] of Object.entries(axles) as [string, [number, number]][])
    expect(sayRatio(ratioOf([{ driver, driven }]))).toBe(name);
});

it('tells hunting gear sets from others as they are told for lapping marks: 9 and 41 hunt, 10 and 40 do not, 12 and 38 partly (common practice, from memory)', () => {
  expect(huntingOf({ driver: 9, driven: 41 })).toBe('hunting');
  expect(huntingOf({ driver: 10, driven: 40 })).toBe('not hunting');
  expect(huntingOf({ driver: 12, driven: 38 })).toBe('partly hunting');
});
