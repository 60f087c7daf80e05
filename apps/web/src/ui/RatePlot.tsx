import styles from './RatePlot.module.css';

export interface RatePoint {
  readonly key: string;
  /** when it was: under the plot */
  readonly words: string;
  /** From nought to a hundred. */
  readonly least: number;
  readonly rate: number;
  readonly most: number;
}

export interface RatePlotProps {
  /** The same in a sentence, for those who hear it; a table beside it has the figures. */
  readonly label: string;
  /** oldest first */
  readonly points: readonly RatePoint[];
}

const step = 64;
const left = 44;
const top = 12;
const height = 160;
const foot = 26;
const half = 6;
const marks = [0, 50, 100];
/** More names than this stand in each other's way: then every second is named, or fewer. */
const namedMax = 12;

/** Shares over time on a scale of a hundred: each a dimension line upright with a mark, and a fine line from mark to mark. */
export function RatePlot({ label, points }: RatePlotProps) {
  const width = left + Math.max(1, points.length) * step;
  const x = (index: number) => left + (index + 0.5) * step;
  const y = (share: number) => top + height * (1 - share / 100);
  const every = Math.ceil(points.length / namedMax);
  return (
    <div className={styles.plot} role="img" aria-label={label}>
      <svg width={width} height={top + height + foot} viewBox={`0 0 ${width} ${top + height + foot}`} aria-hidden="true">
        {marks.map((share) => (
          <g key={share}>
            <line className={styles.hair} x1={left} x2={width} y1={y(share)} y2={y(share)} />
            <text className={styles.words} x={left - 8} y={y(share) + 4} textAnchor="end">
              {share}
            </text>
          </g>
        ))}
        <polyline className={styles.way} points={points.map(({ rate }, index) => `${x(index)},${y(rate)}`).join(' ')} />
        {points.map(({ key, words, least, rate, most }, index) => (
          <g key={key}>
            <path
              className={styles.range}
              d={`M${x(index)} ${y(least)}V${y(most)}M${x(index) - half} ${y(least)}h${2 * half}M${x(index) - half} ${y(most)}h${2 * half}`}
            />
            <path
              className={styles.mark}
              d={`M${x(index)} ${y(rate) - half}l${half} ${half}l-${half} ${half}l-${half} -${half}z`}
            />
            {(points.length - 1 - index) % every === 0 && (
              <text className={styles.words} x={x(index)} y={top + height + foot - 6} textAnchor="middle">
                {words}
              </text>
            )}
          </g>
        ))}
      </svg>
    </div>
  );
}
