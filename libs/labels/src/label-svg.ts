/** A label as SVG, for proofs on the screen. The paper's colour and the fonts are the page's own. */
import { type DotRect, dots, type LabelFont, type LabelScene, type SceneText } from './label-scene.js';
import type { LabelStock } from './label-stock.js';

const families: Record<LabelFont, string> = {
  condensed: "'Corewright Condensed', 'Arial Narrow', sans-serif",
  figures: "'Corewright Condensed', 'Arial Narrow', sans-serif",
  text: "'Corewright Text', Arial, sans-serif",
  strong: "'Corewright Text', Arial, sans-serif",
};

/**
 * The whole label as one `<svg>` whose units are printer dots.
 * Classes `label-paper`, `label-eyelet` and `label-hole` are left to the page to colour; without style they are white, grey and white.
 * @param name what a screen reader says, as "Tie-on tag U 000412 21, Overhead-worm axle".
 */
export function labelSvg(scene: LabelScene, stock: LabelStock, name: string): string {
  const black = [...scene.rects, ...scene.linear.rects, ...scene.matrix.rects].map(rectPath).join('');
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${scene.width} ${scene.height}" role="img" aria-label="${escapeXml(name)}">`,
    paper(scene, stock),
    `<path d="${black}" fill="#111" shape-rendering="crispEdges"/>`,
    ...scene.texts.map(textElement),
    '</svg>',
  ].join('');
}

function paper(scene: LabelScene, { tag }: LabelStock): string {
  const { width, height, dpi } = scene;
  if (tag === undefined) {
    const radius = dots(1.5, dpi);
    return `<rect class="label-paper" width="${width}" height="${height}" rx="${radius}" fill="#fff"/>`;
  }
  const cut = dots(tag.cornerCut, dpi);
  const circle = (radius: number, className: string, fill: string) =>
    `<circle class="${className}" cx="${dots(tag.eyelet.x, dpi)}" cy="${dots(tag.eyelet.y, dpi)}" r="${dots(radius, dpi)}" fill="${fill}"/>`;
  return [
    `<path class="label-paper" d="M${cut} 0H${width}V${height}H${cut}L0 ${height - cut}V${cut}Z" fill="#fff"/>`,
    circle(tag.eyelet.radius, 'label-eyelet', '#999'),
    circle(tag.eyelet.holeRadius, 'label-hole', '#fff'),
  ].join('');
}

function rectPath({ x, y, width, height }: DotRect): string {
  return `M${x} ${y}h${width}v${height}h-${width}z`;
}

/** The measured width is given too, so that a fallback font keeps out of the symbols as well. */
function textElement({ text, font, size, x, baseline, width, ink }: SceneText): string {
  const attributes = [
    `x="${round(x)}" y="${baseline}"`,
    `font-family="${families[font]}" font-size="${round(size)}"`,
    font === 'strong' ? 'font-weight="600"' : '',
    `textLength="${round(width)}" lengthAdjust="spacingAndGlyphs"`,
    `fill="${ink === 'white' ? '#fff' : '#111'}"`,
    font === 'figures' ? 'style="font-variant-numeric:tabular-nums;font-kerning:none"' : 'style="font-kerning:none"',
  ].filter((attribute) => attribute !== '');
  return `<text ${attributes.join(' ')}>${escapeXml(text)}</text>`;
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}

function escapeXml(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replace(controlCharacters, '');
}

/** XML 1.0 has no room for these at all, not even escaped. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const controlCharacters = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g;
