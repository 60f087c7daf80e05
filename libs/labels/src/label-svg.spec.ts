import { makeCode } from '@corewright/codes/label-code';
import { layoutLabel } from './label-layout.js';
import { labelStocks } from './label-stock.js';
import { labelSvg } from './label-svg.js';

const symbols = { linear: [...Array.from({ length: 48 }, () => 2), 2, 3, 3], matrix: { pixs: [1, 0, 1, 1], pixx: 2, pixy: 2 } };
const measure = (text: string, _font: string, size: number) => text.length * size * 0.4;

describe('label proof', () => {
  const stock = labelStocks['tag-100x50'];
  const scene = layoutLabel(
    { code: makeCode('U', 412), title: 'Setscrew <3/8" & washer>\u0007', warning: 'HELD' },
    symbols,
    stock,
    203,
    measure,
  );
  const svg = labelSvg(scene, stock, 'Tie-on tag "U 000412 21" & more');

  it('has printer dots for units and a name', () => {
    expect(svg).toContain('viewBox="0 0 799 400"');
    expect(svg).toContain('aria-label="Tie-on tag &quot;U 000412 21&quot; &amp; more"');
  });

  it('escapes what people key', () => {
    expect(svg).toContain('>Setscrew &lt;3/8&quot; &amp; washer&gt;</text>');
  });

  it('draws every bar and module once, on whole dots', () => {
    const moves = /<path d="([^"]+)" fill="#111"/.exec(svg)![1]!.match(/M\d+ \d+h\d+v\d+h-\d+z/g)!;
    expect(moves).toHaveLength(scene.rects.length + scene.linear.rects.length + scene.matrix.rects.length);
  });

  it('shows corners and eyelet of a tag and a plain sheet of a label', () => {
    expect(svg).toContain('label-eyelet');
    expect(labelSvg(scene, labelStocks['label-50x30'], 'x')).not.toContain('label-eyelet');
  });
});
