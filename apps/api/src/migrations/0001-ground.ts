import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantSequences, grantServing } from './serving-grants.js';

/** People, sign-in, the command log with its outcomes, news, codes. */
export class Ground1764061200001 implements MigrationInterface {
  name = 'Ground1764061200001';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query('CREATE EXTENSION IF NOT EXISTS pg_trgm');
    await runner.query(ground);
    await grantServing(runner, 'append', ['commands', 'outcomes', 'sign_in_attempts']);
    await grantServing(runner, 'edit', ['workshop', 'people', 'sign_in_tickets', 'codes']);
    await grantServing(runner, 'edit-and-remove', ['sessions', 'outbox']);
    await grantSequences(runner, ['outbox_id_seq', ...'ulcxpjtbk'.split('').map((kind) => `code_serial_${kind}`)]);
  }

  async down(): Promise<void> {
    throw new Error('The ground is not taken down: restore a backup instead.');
  }
}

const ground = `
  CREATE TABLE workshop (
    only_row boolean PRIMARY KEY DEFAULT true CHECK (only_row),
    name text NOT NULL CHECK (name <> ''),
    time_zone text NOT NULL,
    locale text NOT NULL,
    currency char(3) NOT NULL,
    is_example boolean NOT NULL DEFAULT false,
    created_at timestamptz NOT NULL DEFAULT now()
  );

  CREATE TABLE people (
    id uuid PRIMARY KEY,
    sign_in_name text COLLATE "C" NOT NULL UNIQUE CHECK (sign_in_name = lower(sign_in_name) AND sign_in_name <> ''),
    display_name text NOT NULL CHECK (display_name <> ''),
    role text NOT NULL CHECK (role IN ('owner', 'stores', 'bench', 'viewer')),
    pass_phrase_hash text,
    active boolean NOT NULL DEFAULT true,
    version integer NOT NULL DEFAULT 1,
    created_at timestamptz NOT NULL DEFAULT now()
  );

  CREATE TABLE sessions (
    token_hash bytea PRIMARY KEY,
    person_id uuid NOT NULL REFERENCES people,
    created_at timestamptz NOT NULL DEFAULT now(),
    expires_at timestamptz NOT NULL
  );
  CREATE INDEX sessions_person ON sessions (person_id);

  -- one-time links: first set-up, the example workshop's sign-in, a new pass phrase
  CREATE TABLE sign_in_tickets (
    token_hash bytea PRIMARY KEY,
    purpose text NOT NULL CHECK (purpose IN ('set-up', 'sign-in', 'pass-phrase')),
    person_id uuid REFERENCES people,
    created_at timestamptz NOT NULL DEFAULT now(),
    expires_at timestamptz NOT NULL,
    used_at timestamptz
  );

  CREATE TABLE sign_in_attempts (
    id uuid PRIMARY KEY,
    sign_in_name text COLLATE "C" NOT NULL,
    address text NOT NULL,
    outcome text NOT NULL CHECK (outcome IN ('signed-in', 'refused', 'throttled')),
    at timestamptz NOT NULL DEFAULT now()
  );
  CREATE INDEX sign_in_attempts_recent ON sign_in_attempts (sign_in_name, at);
  CREATE INDEX sign_in_attempts_address ON sign_in_attempts (address, at);

  -- the command log is the audit trail and the guard that makes retries safe
  CREATE TABLE commands (
    key uuid PRIMARY KEY,
    person_id uuid REFERENCES people,
    device_id text,
    made_at timestamptz,
    arrived_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    route text NOT NULL,
    request_hash bytea NOT NULL
  );
  CREATE INDEX commands_arrived ON commands (arrived_at);

  CREATE TABLE outcomes (
    command_key uuid PRIMARY KEY REFERENCES commands,
    status smallint NOT NULL,
    body jsonb NOT NULL,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );

  CREATE TABLE outbox (
    id bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    topics text[] NOT NULL,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );

  -- what a code is on; a void code says what it was on, and a code is never used again
  CREATE TABLE codes (
    code text COLLATE "C" PRIMARY KEY,
    kind char(1) NOT NULL CHECK (kind IN ('U','L','C','X','P','J','T','B','K')),
    subject_id uuid NOT NULL,
    given_at timestamptz NOT NULL DEFAULT now(),
    voided_at timestamptz,
    void_words text,
    CHECK ((voided_at IS NULL) = (void_words IS NULL)),
    CHECK (left(code, 1) = kind)
  );
  CREATE INDEX codes_subject ON codes (subject_id);

  ${'ulcxpjtbk'
    .split('')
    .map((kind) => `CREATE SEQUENCE code_serial_${kind};`)
    .join('\n  ')}

  CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    RAISE EXCEPTION '% rows are kept for good: % is refused', TG_TABLE_NAME, TG_OP USING ERRCODE = 'CW001';
  END $$;

  CREATE TRIGGER commands_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON commands FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
  CREATE TRIGGER outcomes_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON outcomes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
  CREATE TRIGGER sign_in_attempts_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON sign_in_attempts FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;
