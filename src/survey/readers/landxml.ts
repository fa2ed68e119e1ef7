import sax from 'sax';
import { InputFault, namesInPart, quoted } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { writeXml } from '../../xml-text.js';
import { type ByteSource, pieces } from './byte-source.js';
import type { FileReader } from './file-reader.js';
import {
  beginReading,
  endElement,
  endSurface,
  type LandXmlReading,
  newReading,
  openElement,
} from './landxml-elements.js';

const numbersOf = (text: string, source: string, place: () => string): number[] => {
  const trimmed = text.trim();
  if (trimmed === '') return [];
  return trimmed.split(/\s+/).map((field) => {
    const value = Number(field);
    if (!Number.isFinite(value)) {
      throw new InputFault(
        { file: source, place: place() },
        `${quoted(field, 30)} is not a number`,
        'a point is northing, easting and height, parted by spaces',
      );
    }
    return value;
  });
};

const decode = async function* (bytes: ByteSource): AsyncGenerator<string> {
  const head = await bytes.read(0, 4);
  const encoding =
    head[0] === 0xff && head[1] === 0xfe
      ? 'utf-16le'
      : head[0] === 0xfe && head[1] === 0xff
        ? 'utf-16be'
        : 'utf-8';
  const decoder = new TextDecoder(encoding);
  for await (const piece of pieces(bytes)) yield decoder.decode(piece, { stream: true });
  yield decoder.decode();
};

/** Runs the XML through the reading. The first fault stands; the parser goes on to the end of its piece. */
const readElements = async (bytes: ByteSource, reading: LandXmlReading): Promise<void> => {
  const { source } = reading.context.options;
  const parser = sax.parser(true, { position: true });
  const place = (): string => `line ${parser.line + 1}`;
  const fault = (problem: string, cure?: string): InputFault =>
    new InputFault({ file: source, place: place() }, problem, cure);
  const path: string[] = [];
  let attributes: Readonly<Record<string, string>> = {};
  let text: string[] = [];
  let textLength = 0;
  let failure: unknown = null;
  const heeding = (heed: () => void): void => {
    if (failure !== null) return;
    try {
      heed();
    } catch (error) {
      failure = error;
    }
  };
  parser.onerror = () => {
    failure ??= fault(
      'the XML is not well formed',
      'the file is cut off or damaged; export it again',
    );
  };
  parser.onopentag = (node) =>
    heeding(() => {
      const element = node.name.slice(node.name.indexOf(':') + 1);
      if (path.length === 0 && element !== 'LandXML') {
        throw fault(
          `an XML file of the kind ${quoted(element, 30)}`,
          'export the surface as LandXML',
        );
      }
      path.push(element);
      if (path.length > 200) throw fault('elements nested more than 200 deep');
      attributes = node.attributes as Record<string, string>;
      text = [];
      textLength = 0;
      openElement(reading, element, attributes, fault);
    });
  parser.ontext = (piece) =>
    heeding(() => {
      textLength += piece.length;
      if (textLength > SURVEY_LIMITS.landxmlText) throw fault('an element of more than 64 MB');
      text.push(piece);
    });
  parser.onclosetag = () =>
    heeding(() => {
      const name = path.pop() ?? '';
      const whole = text.join('');
      text = [];
      textLength = 0;
      const numbers = (): number[] => numbersOf(whole, source, place);
      endElement(reading, { name, path, attributes, text: whole, numbers, fault });
      attributes = {};
    });
  for await (const piece of decode(bytes)) {
    for (let at = 0; at < piece.length; at += 32_768) {
      writeXml(parser, piece.slice(at, at + 32_768));
      if (failure !== null) throw failure;
    }
  }
  parser.close();
  if (failure !== null) throw failure;
};

/** Refuses several surfaces of which none is named, and one that has no points. */
const checkSurfaces = ({ asked, surfaces, given, context }: LandXmlReading): void => {
  const { source } = context.options;
  if (surfaces.length > 1 && asked === null) {
    throw new InputFault(
      { file: source },
      `the file holds ${surfaces.length} surfaces`,
      `name one by --surface or the key surface: ${namesInPart(surfaces, 5)}`,
    );
  }
  if (given === 0) {
    throw new InputFault(
      { file: source },
      asked === null
        ? 'no surface with points in the LandXML file'
        : `no surface ${quoted(asked)} with points in the LandXML file`,
      surfaces.length === 0
        ? 'export the surface with its points and faces'
        : `its surfaces: ${namesInPart(surfaces, 5)}`,
    );
  }
};

/**
 * LandXML surfaces: the vertices of the triangles in use, and breaklines. A vertex that no visible face
 * uses is left out, since contractors' surfaces keep deleted ones; a file without faces gives all its
 * points. Coordinates are northing, easting, height, as the schema has them.
 *
 * @throws InputFault for XML that is not well formed, a wrong number, and a face of an unknown vertex.
 */
export const readLandXml: FileReader = async (bytes, context) => {
  const reading = newReading(context);
  await readElements(bytes, reading);
  const { asked, surfaces, rings } = reading;
  if (surfaces.length === 0 && reading.loose.length > 0) endSurface(reading);
  beginReading(reading);
  checkSurfaces(reading);
  const named = surfaces.length > 0 && reading.name !== null;
  return {
    kind: 'tin',
    cellSize: null,
    breaklines: rings
      .filter((ring) => ring.length > 1)
      .map((ring) => ring.map((s) => context.place(...s))),
    notes: [],
    how: `LandXML, northing, easting, height${named ? `, surface ${quoted(asked ?? surfaces[0], 40)}` : ''}`,
  };
};
