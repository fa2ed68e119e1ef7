import { writeExtents } from './las-writer.js';

/** LAS 1.4 files of point formats 6 to 8 (ASPRS LAS 1.4 R15, sections 2.3 to 2.7), not compressed. */

export interface FlaggedPoint {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly group: number;
  readonly withheld: boolean;
}

const SCALE = 0.001;
const HEADER = 375;
const LENGTH: Readonly<Record<number, number>> = { 6: 30, 7: 36, 8: 38 };

/** A record of the coordinate system's text: before the points with 54 bytes of head, behind them with 60. */
const wktRecord = (text: string, late: boolean): Uint8Array => {
  const body = new TextEncoder().encode(`${text}\0`);
  const head = late ? 60 : 54;
  const bytes = new Uint8Array(head + body.length);
  bytes.set(new TextEncoder().encode('LASF_Projection'), 2);
  const view = new DataView(bytes.buffer);
  view.setUint16(18, 2112, true);
  if (late) view.setBigUint64(20, BigInt(body.length), true);
  else view.setUint16(20, body.length, true);
  bytes.set(body, head);
  return bytes;
};

const recordsOf = (
  points: readonly FlaggedPoint[],
  offset: readonly number[],
  length: number,
): Uint8Array => {
  const bytes = new Uint8Array(points.length * length);
  const view = new DataView(bytes.buffer);
  points.forEach((p, k) => {
    const at = k * length;
    [p.x, p.y, p.z].forEach((v, i) => {
      view.setInt32(at + 4 * i, Math.round((v - offset[i]) / SCALE), true);
    });
    view.setUint8(at + 14, 0x11); // first of one return
    view.setUint8(at + 15, p.withheld ? 0x04 : 0);
    view.setUint8(at + 16, p.group);
  });
  return bytes;
};

export const writeLas14 = (
  points: readonly FlaggedPoint[],
  { format, wkt, late = false }: { format: number; wkt?: string; late?: boolean },
): Uint8Array => {
  const offset = [Math.floor(points[0].x), Math.floor(points[0].y), 0];
  const record = wkt === undefined ? new Uint8Array() : wktRecord(wkt, late);
  const before = late ? 0 : record.length;
  const body = recordsOf(points, offset, LENGTH[format]);
  const bytes = new Uint8Array(HEADER + record.length + body.length);
  const view = new DataView(bytes.buffer);
  bytes.set(new TextEncoder().encode('LASF'));
  view.setUint16(6, 0x10, true); // the coordinate system is told as WKT
  bytes.set([1, 4], 24);
  view.setUint16(94, HEADER, true);
  view.setUint32(96, HEADER + before, true);
  view.setUint32(100, before > 0 ? 1 : 0, true);
  bytes[104] = format;
  view.setUint16(105, LENGTH[format], true);
  writeExtents(view, points, SCALE, offset);
  if (late && record.length > 0) {
    view.setBigUint64(235, BigInt(HEADER + body.length), true);
    view.setUint32(243, 1, true);
  }
  view.setBigUint64(247, BigInt(points.length), true);
  bytes.set(late ? body : record, HEADER);
  bytes.set(late ? record : body, HEADER + (late ? body : record).length);
  return bytes;
};
