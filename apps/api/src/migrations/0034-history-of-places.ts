import type { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * What came to a place and went from it, with the thing and how much: what lay there at an instant that has passed is added up from the indexes alone, where each
 * movement of the place would be fetched from another page of the ledger. And what was done to a place itself, which stands in the commands.
 */
export class HistoryOfPlaces1764061200034 implements MigrationInterface {
  name = 'HistoryOfPlaces1764061200034';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(`
      DROP INDEX movements_to, movements_from;
      CREATE INDEX movements_to ON movements (to_holder_id, recorded_at) INCLUDE (thing_id, quantity);
      CREATE INDEX movements_from ON movements (from_holder_id, recorded_at) INCLUDE (thing_id, quantity);
      CREATE INDEX commands_on_places ON commands (route) WHERE route LIKE '% /api/places/%';`);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query(`
      DROP INDEX movements_to, movements_from, commands_on_places;
      CREATE INDEX movements_to ON movements (to_holder_id, recorded_at);
      CREATE INDEX movements_from ON movements (from_holder_id, recorded_at);`);
  }
}
