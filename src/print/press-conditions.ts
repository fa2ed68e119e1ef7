import { InputFault, quoted } from '../fault.js';
import { ownValue } from '../own-value.js';
import type { PressCondition } from './pdf-document.js';

/**
 * Printing conditions in the ICC's registry of characterisation data that a book may name.
 * Identifiers and descriptions from memory.
 */
const CONDITIONS: Readonly<Record<string, string>> = {
  FOGRA39: 'Offset on coated paper, ISO 12647-2:2004/Amd 1',
  FOGRA47: 'Offset on uncoated white paper, ISO 12647-2:2004/Amd 1',
  FOGRA51: 'Offset on premium coated paper, ISO 12647-2:2013',
  FOGRA52: 'Offset on wood-free uncoated white paper, ISO 12647-2:2013',
  'CGATS TR 001': 'Web offset on publication paper, CGATS TR 001',
  'CGATS TR 006': 'Sheet-fed offset on coated paper, CGATS TR 006',
};

/** Throws InputFault for a condition that is not registered. */
export const pressCondition = (identifier: string): PressCondition => {
  const info = ownValue(CONDITIONS, identifier);
  if (info === undefined) {
    throw new InputFault(
      { place: 'press.condition' },
      `${quoted(identifier)} is not a printing condition that this program knows`,
      `use one of: ${Object.keys(CONDITIONS).join(', ')}`,
    );
  }
  return { identifier, info };
};
