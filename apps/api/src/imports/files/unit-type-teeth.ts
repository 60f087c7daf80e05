import { noteDifferences } from '../books.js';
import { columns, type FileReader } from '../file-reader.js';
import { unitTypeIn } from '../lookups.js';

const selectMesh = 'SELECT driver, driven FROM unit_type_teeth WHERE unit_type_id = $1 AND gear = $2 AND mesh = $3';
const insertMesh = 'INSERT INTO unit_type_teeth (unit_type_id, gear, mesh, driver, driven) VALUES ($1, $2, $3, $4, $5)';
const teethMax = 1000;

/** The teeth that make a type's ratio, mesh by mesh; of a gearbox, for each gear. */
export const unitTypeTeeth: FileReader = {
  file: 'unit-type-teeth',
  columns: columns('unit_type!', 'gear', 'mesh!', 'driver!', 'driven!'),
  key: ['unit_type', 'gear', 'mesh'],
  async read(row, books) {
    const typeId = await unitTypeIn(row, 'unit_type', books);
    const gear = row.text('gear', 40);
    const mesh = row.whole('mesh', 1, 20);
    const facts = { driver: row.whole('driver', 1, teethMax), driven: row.whole('driven', 1, teethMax) };
    if (row.faulty) return null;
    const there = await books.transaction.row(selectMesh, [typeId, gear, mesh]);
    if (there) {
      noteDifferences(row, facts, there);
      return 'unchanged';
    }
    await books.transaction.rows(insertMesh, [typeId, gear, mesh, facts.driver, facts.driven]);
    return 'added';
  },
};
