import { meshesAsked, readRatioAsked, teethOf } from './ratio-asked.js';

describe('a ratio in the address', () => {
  it('is read back as it was asked, figures that the router takes for numbers included', () => {
    expect(readRatioAsked({ teeth: '8/39', input: 9.75, output: 2, side: 'held', drivers: '6 to 14', more: 'x' })).toEqual({
      teeth: '8/39',
      input: '9.75',
      output: '2',
      side: 'held',
      drivers: '6 to 14',
    });
    expect(readRatioAsked({ side: 'upper', input: ['1'] })).toEqual({});
  });

  it('keeps the meshes in their order, and leaves out those that nobody counted', () => {
    const meshes = [
      { driver: ' 18', driven: '32 ' },
      { driver: '', driven: '' },
      { driver: '13', driven: '37' },
    ];
    expect(teethOf(meshes)).toBe('18/32 13/37');
    expect(meshesAsked('18/32 13/37')).toEqual([
      { driver: '18', driven: '32' },
      { driver: '13', driven: '37' },
    ]);
    expect(meshesAsked('')).toEqual([{ driver: '', driven: '' }]);
    expect(meshesAsked(teethOf([{ driver: '8', driven: '' }]))).toEqual([{ driver: '8', driven: '' }]);
  });
});
