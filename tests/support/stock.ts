import pg from 'pg';
import { partNumberKey } from '../../apps/api/src/catalogue/part-number-key.js';
import { valueTypes } from '../../apps/api/src/platform/database/pool.js';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { countDifferenceId } from '../../apps/api/src/stores/ledger.js';
import { makeCode } from '../../libs/codes/src/label-code.js';
import type { BuildStandard } from '../../libs/contracts/src/base.js';

export interface Made {
  id: string;
  code: string;
}

export interface LotFacts {
  quantity?: string;
  source?: string;
  make?: string;
  condition?: string;
  packetRead?: string;
  packetEarliest?: string | null;
  packetLatest?: string | null;
  ownerId?: string | null;
  placeId?: string;
}

/**
 * Fills a workshop for a test with the statements of the owner's login: parts, lots, units, jobs. The stock itself still
 * comes by movements, so the database keeps its balances as it always does.
 */
export class Stock {
  private constructor(
    private readonly client: pg.Client,
    readonly placeId: string,
    private readonly makerId: string,
    private readonly commandKey: string,
  ) {}

  static async open(ownerUrl: string): Promise<Stock> {
    // Tests fill in several things at once: `pipeline` lets a connection take statements before the last is answered.
    const config: pg.ClientConfig & { pipeline: boolean } = { connectionString: ownerUrl, types: valueTypes, pipeline: true };
    const client = new pg.Client(config);
    await client.connect();
    const [placeId, makerId, commandKey] = [newId(), newId(), newId()];
    const stock = new Stock(client, placeId, makerId, commandKey);
    await client.query("INSERT INTO commands (key, route, request_hash) VALUES ($1, 'test', '')", [commandKey]);
    await client.query('INSERT INTO makers (id, name) VALUES ($1, $2)', [makerId, `Brantock ${makerId}`]);
    await client.query("INSERT INTO holders (id, kind) VALUES ($1, 'place')", [placeId]);
    await client.query("INSERT INTO places (holder_id, name, kind) VALUES ($1, $2, 'bin')", [placeId, `Bin ${placeId}`]);
    await stock.codeFor('P', placeId);
    return stock;
  }

  async close(): Promise<void> {
    await this.client.end();
  }

  query<Row extends pg.QueryResultRow>(text: string, values: unknown[] = []): Promise<Row[]> {
    return this.client.query<Row>(text, values).then((answer) => answer.rows);
  }

  async codeFor(kind: 'U' | 'L' | 'C' | 'X' | 'P' | 'J', subjectId: string): Promise<string> {
    const [row] = await this.query<{ serial: number }>('SELECT nextval($1::regclass) AS serial', [
      `code_serial_${kind.toLowerCase()}`,
    ]);
    const code = makeCode(kind, row!.serial);
    await this.query('INSERT INTO codes (code, kind, subject_id) VALUES ($1, $2, $3)', [code, kind, subjectId]);
    return code;
  }

  async place(kind: 'bin' | 'quarantine' = 'bin'): Promise<Made> {
    const id = newId();
    await this.query("INSERT INTO holders (id, kind) VALUES ($1, 'place')", [id]);
    await this.query('INSERT INTO places (holder_id, name, kind) VALUES ($1, $2, $3)', [id, `Bin ${id}`, kind]);
    return { id, code: await this.codeFor('P', id) };
  }

  async part(
    facts: { name?: string; material?: string; polymer?: string; unit?: string; number?: string } = {},
  ): Promise<string> {
    const id = newId();
    await this.query('INSERT INTO parts (id, name, unit_of_measure, material, polymer) VALUES ($1, $2, $3, $4, $5)', [
      id,
      facts.name ?? 'Thrust washer',
      facts.unit ?? 'each',
      facts.material ?? 'metal',
      facts.polymer ?? '',
    ]);
    const number = facts.number ?? `T-${id.slice(-12)}`;
    await this.query(
      'INSERT INTO part_numbers (id, part_id, maker_id, number, number_key, is_main) VALUES ($1, $2, $3, $4, $5, true)',
      [newId(), id, this.makerId, number, partNumberKey(number)],
    );
    return id;
  }

  async customer(name = `Customer ${newId()}`): Promise<string> {
    const id = newId();
    await this.query('INSERT INTO parties (id, name, is_customer) VALUES ($1, $2, true)', [id, name]);
    return id;
  }

  async lot(partId: string | null, facts: LotFacts = {}): Promise<Made> {
    const id = newId();
    await this.query("INSERT INTO things (id, kind, owner_id) VALUES ($1, 'L', $2)", [id, facts.ownerId ?? null]);
    await this.query(
      `INSERT INTO lots (thing_id, part_id, words, source, make, condition, packet_read, packet_precision, packet_earliest, packet_latest)
       VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`,
      [
        id,
        partId,
        partId ? '' : 'a bag of something',
        facts.source ?? 'new',
        facts.make ?? 'genuine',
        facts.condition ?? 'as new',
        facts.packetRead ?? '',
        facts.packetEarliest ? 'year' : 'unknown',
        facts.packetEarliest ?? null,
        facts.packetLatest ?? null,
      ],
    );
    const code = await this.codeFor('L', id);
    const quantity = facts.quantity ?? '1';
    if (quantity !== '0') await this.bring(id, quantity, facts.placeId ?? this.placeId);
    return { id, code };
  }

  async unit(facts: { ownerId?: string | null; unitTypeId?: string | null } = {}): Promise<Made> {
    const id = newId();
    await this.query("INSERT INTO things (id, kind, owner_id) VALUES ($1, 'U', $2)", [id, facts.ownerId ?? null]);
    await this.query("INSERT INTO units (thing_id, unit_type_id, words) VALUES ($1, $2, 'Overhead-worm axle')", [
      id,
      facts.unitTypeId ?? null,
    ]);
    await this.query("INSERT INTO holders (id, kind) VALUES ($1, 'unit')", [id]);
    const code = await this.codeFor('U', id);
    await this.bring(id, '1', this.placeId);
    return { id, code };
  }

  async bring(thingId: string, quantity: string, placeId: string): Promise<void> {
    await this.query(
      `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
       VALUES ($1, $2, $3, $4, $5, $6, 'opening stock', now())`,
      [newId(), this.commandKey, thingId, quantity, countDifferenceId, placeId],
    );
  }

  /** Gives a thing of ours to a customer, who has the workshop's first person's word for it. */
  async giveAway(thingId: string, ownerId: string): Promise<void> {
    await this.query(
      `INSERT INTO owner_changes (id, command_key, thing_id, from_owner_id, to_owner_id, how, on_day, words, person_id)
       SELECT $1, $2, $3, owner_id, $4, 'given to them', current_date, 'for the old one', (SELECT id FROM people ORDER BY id LIMIT 1) FROM things WHERE id = $3`,
      [newId(), this.commandKey, thingId, ownerId],
    );
  }

  /** A job with one operation and a line for each part. */
  async job(
    lines: { partId: string; quantity?: string; critical?: boolean; reusable?: boolean; sources?: string[]; makes?: string[] }[],
    facts: { customerId?: string | null; state?: string; buildStandard?: BuildStandard } = {},
  ): Promise<Made & { unit: Made; trayId: string; lineIds: string[]; operationId: string }> {
    const unit = await this.unit({ ownerId: facts.customerId ?? null });
    const [id, trayId, operationId] = [newId(), newId(), newId()];
    await this.query("INSERT INTO holders (id, kind) VALUES ($1, 'tray')", [trayId]);
    await this.query("INSERT INTO places (holder_id, name, kind) VALUES ($1, $2, 'tray')", [trayId, `Tray ${trayId}`]);
    await this.codeFor('P', trayId);
    await this.query(
      `INSERT INTO jobs (id, unit_id, customer_id, title, build_standard, state, tray_id, opened_on) VALUES ($1, $2, $3, 'Overhead-worm axle', $6, $4, $5, current_date)`,
      [id, unit.id, facts.customerId ?? null, facts.state ?? 'building', trayId, facts.buildStandard ?? 'serviceable'],
    );
    await this.query(
      "INSERT INTO job_operations (id, job_id, number, name, minutes_planned, minutes_left) VALUES ($1, $2, 10, 'Build', 480, 480)",
      [operationId, id],
    );
    const lineIds: string[] = [];
    for (const [index, line] of lines.entries()) {
      const lineId = newId();
      lineIds.push(lineId);
      await this.query(
        'INSERT INTO job_lines (id, job_id, line_no, part_id, quantity, operation_id, critical, reusable, sources, makes) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)',
        [
          lineId,
          id,
          index + 1,
          line.partId,
          line.quantity ?? '1',
          operationId,
          line.critical ?? false,
          line.reusable ?? false,
          line.sources ?? [],
          line.makes ?? [],
        ],
      );
    }
    return { id, code: await this.codeFor('J', id), unit, trayId, lineIds, operationId };
  }
}
