import type { LabelPrinter } from '@corewright/contracts/labels';
import type { Reader } from '../platform/database/database.js';

const columns = 'id, name, stock, dots_per_inch AS "dotsPerInch", version';
const selectAll = `SELECT ${columns} FROM label_printers ORDER BY name, id`;
const selectOne = `SELECT ${columns} FROM label_printers WHERE id = $1`;

export function allPrinters(reader: Reader): Promise<LabelPrinter[]> {
  return reader.rows<LabelPrinter & Record<string, unknown>>(selectAll);
}

export function printerById(reader: Reader, id: string): Promise<LabelPrinter | null> {
  return reader.row<LabelPrinter & Record<string, unknown>>(selectOne, [id]);
}
