import { Injectable } from '@nestjs/common';
import { Database } from '../platform/database/database.js';
import { makeTicket } from './tickets.js';
import { readWorkshop } from './workshop.js';

const selectFirstOwner = `SELECT id FROM people WHERE role = 'owner' AND active ORDER BY created_at, id LIMIT 1`;

/** The links that the terminal prints when the server starts. */
@Injectable()
export class SignInLinks {
  constructor(private readonly database: Database) {}

  /**
   * The path to open first, with a fresh one-time token: set-up for a workshop that has none yet, sign-in for the example's owner.
   * Null for a workshop of one's own: nobody comes into that through the terminal.
   */
  async pathForTerminal(example: boolean): Promise<string | null> {
    const workshop = await readWorkshop(this.database);
    if (!workshop) return `/set-up?token=${(await makeTicket(this.database, 'set-up', null)).token}`;
    if (!example || !workshop.isExample) return null;
    const owner = await this.database.row<{ id: string }>(selectFirstOwner);
    return owner ? `/sign-in?token=${(await makeTicket(this.database, 'sign-in', owner.id)).token}` : null;
  }
}
