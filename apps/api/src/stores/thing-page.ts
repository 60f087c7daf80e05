import type { Coded } from '@corewright/contracts/base';
import type { Thing } from '@corewright/contracts/stores';
import { Injectable } from '@nestjs/common';
import { canBeBearing, storageLifeOf, storageLifeShown } from '../catalogue/storage-life.js';
import { WorkshopClock } from '../people/workshop.js';
import type { Reader } from '../platform/database/database.js';
import { invariant } from '../platform/refusal.js';
import { inspectionsOf } from './inspect-lot/inspection.queries.js';
import { ClaimantNames, LoadNames, UnitJobs } from './later-names.js';
import { missingOf } from './not-there/missing.queries.js';
import { picturesOf } from './pictures/picture.queries.js';
import { mergedInto } from './regroup/regrouping.queries.js';
import { holdingsOf, lastSeen, openClaims, type ThingRow, thingRow } from './thing.queries.js';

/** A thing's page: what it is, where it is, who has a claim on it, who saw it last. */
@Injectable()
export class ThingPage {
  constructor(
    private readonly clock: WorkshopClock,
    private readonly claimants: ClaimantNames,
    private readonly loads: LoadNames,
    private readonly jobs: UnitJobs,
  ) {}

  /** Null for what is not in the books. */
  async of(reader: Reader, thingId: string): Promise<Thing | null> {
    const row = await thingRow(reader, thingId);
    if (row === null) return null;
    const common = {
      ...commonOf(row),
      missing: await missingOf(reader, row),
      holdings: await holdingsOf(reader, thingId),
      claims: await this.claimsOn(reader, thingId),
      load: await this.loads.nameOf(reader, thingId),
      pictures: await picturesOf(reader, [thingId, ...(row.kind === 'L' ? await mergedInto(reader, thingId) : [])]),
      lastSeen: await lastSeen(reader, thingId),
    };
    switch (row.kind) {
      case 'U':
        return { ...common, ...unitFacts(row), job: await this.jobs.nameOf(reader, thingId) };
      case 'L':
        return {
          ...common,
          ...lotFacts(row, await this.clock.today(reader)),
          inspections: await inspectionsOf(reader, thingId),
        };
      case 'C':
        return { ...common, ...componentFacts(row) };
      case 'X':
        return {
          ...common,
          kind: 'unsorted',
          words: row.words,
          pieceCount: row.pieceCount,
          piecesLeft: row.piecesLeft,
          saidEmpty: row.saidEmpty,
        };
    }
  }

  private async claimsOn(reader: Reader, thingId: string): Promise<Thing['claims']> {
    const claims = await openClaims(reader, thingId);
    const names = await this.claimants.namesOf(
      reader,
      claims.map((claim) => claim.claimantId),
    );
    return claims.map(({ id, claimantId, claimantCode, quantity }) => {
      invariant(claimantCode !== null, 'whoever claims has a code');
      return { id, claimant: { id: claimantId, code: claimantCode, name: names.get(claimantId) ?? '' }, quantity };
    });
  }
}

function commonOf(row: ThingRow) {
  return {
    id: row.id,
    code: row.code,
    name: row.name,
    owner: row.ownerId === null ? null : { id: row.ownerId, name: row.ownerName ?? '' },
    held: row.held,
    claimed: row.claimed,
    heldBack: row.heldBackReason === null ? null : { reason: row.heldBackReason, by: row.heldBackBy ?? '' },
    condemned: row.condemned,
    note: row.note,
    version: row.version,
    outOfBox: row.boxId === null ? null : { id: row.boxId, code: row.boxCode ?? '', name: row.boxName ?? '' },
  };
}

function unitFacts(row: ThingRow) {
  return {
    kind: 'unit' as const,
    unitType: row.unitTypeId === null ? null : { id: row.unitTypeId, name: row.typeName },
    words: row.words,
    grade: row.grade,
    marks: row.marks,
    stage: row.stage,
    weightKg: row.weightKg,
  };
}

function lotFacts(row: ThingRow, today: string) {
  return {
    kind: 'lot' as const,
    part: partOf(row),
    source: row.source,
    make: row.make,
    maker: row.makerName,
    marks: row.marks,
    condition: row.condition,
    packet: packetOf(row),
    packetCondition: row.packetCondition,
    fittedOnce: row.fittedOnce,
    donor: row.donorUnitId === null ? null : { id: row.donorUnitId, code: row.donorCode ?? '', name: row.donorName ?? '' },
    thickness: row.thickness,
    preservation: row.bearingPacking === null ? null : { packing: row.bearingPacking, store: row.bearingStore },
    canBeBearing: canBeBearing(row.material),
    storageLife: storageLifeShown(storageLifeOf(row, today)),
  };
}

/** The part of a lot; null while nobody has named it. */
export function partOf(row: ThingRow) {
  if (row.partId === null) return null;
  return {
    id: row.partId,
    name: row.partName ?? '',
    number: row.partNumber ?? '',
    maker: row.partMaker ?? '',
    unitOfMeasure: row.unitOfMeasure ?? ('each' as const),
  };
}

/** A lot's packet date as it was read. */
export function packetOf(row: ThingRow) {
  return { asRead: row.packetRead, precision: row.packetPrecision, earliest: row.packetEarliest, latest: row.packetLatest };
}

function componentFacts(row: ThingRow) {
  invariant(row.componentUnitId !== null && row.componentPosition !== null, 'a component has its unit');
  const unit: Coded = { id: row.componentUnitId, code: row.componentUnitCode ?? '', name: row.componentUnitName ?? '' };
  return {
    kind: 'component' as const,
    unit,
    position: row.componentPosition,
    of: Math.max(row.componentCount, row.componentPosition),
    part: row.partId === null ? null : { id: row.partId, name: row.partName ?? '' },
  };
}
