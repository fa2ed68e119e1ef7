import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { readCourseFile } from '../src/course/course-file.js';
import { readTextFile, textOf } from '../src/user-text.js';

const WORDS = 'title: Hügel ½\nmap: Карта\n';
const utf16 = (bigEndian: boolean): Buffer => {
  const bytes = Buffer.from(`\ufeff${WORDS}`, 'utf16le');
  return bigEndian ? bytes.swap16() : bytes;
};

describe('the text of a file that a user wrote', () => {
  it('is read as the byte order mark says (RFC 3629 and RFC 2781), else as UTF-8', () => {
    for (const bytes of [
      Buffer.from(WORDS),
      Buffer.from(`\ufeff${WORDS}`),
      utf16(false),
      utf16(true),
    ]) {
      expect(textOf(bytes, 'course.yaml')).toBe(WORDS);
    }
  });

  it('ends its lines in LF where they end in CR alone', () => {
    expect(textOf(Buffer.from('a: 1\rb: 2\r'), 'course.yaml')).toBe('a: 1\nb: 2\n');
    expect(textOf(Buffer.from('a: 1\r\nb: 2\r\n'), 'course.yaml')).toBe('a: 1\r\nb: 2\r\n');
  });

  it('is not looked for in files of another kind, which are named', () => {
    const told = (bytes: Buffer): (() => unknown) => {
      return () => textOf(bytes, 'links.osm');
    };
    expect(told(Buffer.from('%PDF-1.7\n1 0 obj\n'))).toThrow(
      'links.osm: this is a PDF, no text; name the file of text behind it',
    );
    expect(told(Buffer.from('PK\x03\x04\x14\0', 'latin1'))).toThrow(/a ZIP archive or a workbook/);
    expect(told(gzipSync('{}'))).toThrow(/this is a gzip archive, no text; unpack it/);
    // The first blob of a map: the length of its header (big-endian), then its type as field 1.
    expect(told(Buffer.from('\0\0\0\x0d\n\tOSMHeader\x18\x7c', 'latin1'))).toThrow(
      'links.osm: this is a packed map (PBF), no text; save the extract as OSM XML or GeoJSON',
    );
  });

  it('names the first line that is no such text', () => {
    expect(() => textOf(Buffer.from('title: Links\nmap: H\xfcgel\n', 'latin1'), 'c.yaml')).toThrow(
      'c.yaml, line 2: the letter of the byte 0xFC is not written in UTF-8; save the file as text in UTF-8',
    );
    expect(() => textOf(Buffer.from(WORDS, 'utf16le'), 'c.yaml')).toThrow(/line 1: .*UTF-8/);
    expect(() => textOf(Buffer.from('a\n\0'), 'c.yaml')).toThrow(
      'c.yaml, line 2: a zero byte: this is no text; save the file as text in UTF-8',
    );
  });

  it('is told as empty where nothing stands in it', () => {
    const file = join(mkdtempSync(join(tmpdir(), 'runnel-text-')), 'course.yaml');
    for (const nothing of ['', '\n\n', '# to be written\n']) {
      writeFileSync(file, nothing);
      expect(() => readCourseFile(readTextFile(file), file)).toThrow('the file is empty');
    }
  });
});
