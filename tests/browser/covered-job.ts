import type { Stock } from '../support/stock.js';
import { eventually, type Scene } from './scene.js';

/** A job with a critical line that one lot covers, and that was looked at. */
export async function coveredJob(scene: Scene, stock: Stock, name: string) {
  const partId = await stock.part({ name });
  const lot = await stock.lot(partId);
  const job = await stock.job([{ partId, critical: true, reusable: true }]);
  const path = `/api/jobs/${job.id}/lines/${job.lineIds[0]}/findings`;
  await scene.owner.post(path, { quantityReused: '0', quantityReplaced: '1', words: 'worn out' });
  await eventually(async () => {
    const looked = await stock.query(
      'SELECT 1 FROM line_cover WHERE job_id = $1 AND rests_on @> \'[{"state": "free in stores"}]\'',
      [job.id],
    );
    expect(looked).toHaveLength(1);
  });
  return { lot, job };
}
