import type { DotRect, LabelFont, LabelScene, SceneText } from '@corewright/labels/label-scene';
import { dots } from '@corewright/labels/label-scene';
import type { LabelStock } from '@corewright/labels/label-stock';
import styles from './LabelProof.module.css';

export interface LabelProofProps {
  readonly scene: LabelScene;
  readonly stock: LabelStock;
  /** What a screen reader says. */
  readonly name: string;
}

/** A label as the printer will draw it, dot for dot, on the card that it is printed on. */
export function LabelProof({ scene, stock, name }: LabelProofProps) {
  const black = [...scene.rects, ...scene.linear.rects, ...scene.matrix.rects].map(pathOf).join('');
  return (
    <svg className={styles.proof} viewBox={`-2 -2 ${scene.width + 4} ${scene.height + 4}`} role="img" aria-label={name}>
      <Paper scene={scene} stock={stock} />
      <path d={black} fill="#111" shapeRendering="crispEdges" />
      {scene.texts.map((text) => (
        <Text key={`${text.x} ${text.baseline} ${text.text}`} text={text} />
      ))}
    </svg>
  );
}

function Paper({ scene, stock }: Pick<LabelProofProps, 'scene' | 'stock'>) {
  const { width, height, dpi } = scene;
  const { tag } = stock;
  if (tag === undefined) return <rect className={styles.paper} width={width} height={height} rx={dots(1.5, dpi)} />;
  const cut = dots(tag.cornerCut, dpi);
  const eyelet = { cx: dots(tag.eyelet.x, dpi), cy: dots(tag.eyelet.y, dpi) };
  return (
    <>
      <path className={styles.card} d={`M${cut} 0H${width}V${height}H${cut}L0 ${height - cut}V${cut}Z`} />
      <circle className={styles.washer} {...eyelet} r={dots(tag.eyelet.radius, dpi)} />
      <circle className={styles.hole} {...eyelet} r={dots(tag.eyelet.holeRadius, dpi)} />
    </>
  );
}

const CLASSES: Readonly<Record<LabelFont, string | undefined>> = {
  condensed: styles.condensed,
  figures: styles.figures,
  text: styles.text,
  strong: styles.strong,
};

function Text({ text }: { readonly text: SceneText }) {
  return (
    <text
      className={CLASSES[text.font]}
      x={text.x}
      y={text.baseline}
      fontSize={text.size}
      textLength={text.width}
      lengthAdjust="spacingAndGlyphs"
      fill={text.ink === 'white' ? '#fff' : '#111'}
    >
      {text.text}
    </text>
  );
}

function pathOf({ x, y, width, height }: DotRect): string {
  return `M${x} ${y}h${width}v${height}h-${width}z`;
}
