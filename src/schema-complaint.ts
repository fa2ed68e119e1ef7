import type { ErrorObject } from 'ajv/dist/2020.js';
import { quoted, quotedInPart } from './fault.js';
import { nearestWord } from './nearest-word.js';

/** What a file has against its schema, in words. */

const pathOf = (error: ErrorObject): (string | number)[] =>
  error.instancePath
    .split('/')
    .slice(1)
    .map((key) => key.replaceAll('~1', '/').replaceAll('~0', '~'))
    .map((key) => (/^\d+$/.test(key) ? Number(key) : key));

const TYPE_WORDS: Readonly<Record<string, string>> = {
  integer: 'a whole number',
  number: 'a number',
  string: 'a text',
  array: 'a list',
  object: 'a mapping',
  boolean: 'true or false',
};

const listed = (words: readonly unknown[]): string => words.map(quotedInPart).join(', ');

/** What a value does that its limit in the schema does not allow. */
const limitWords = ({ keyword, params }: ErrorObject): string => {
  const limit = String(params.limit);
  switch (keyword) {
    case 'minimum':
      return `is less than ${limit}`;
    case 'maximum':
      return `is more than ${limit}`;
    case 'exclusiveMinimum':
      return `is not over ${limit}`;
    case 'exclusiveMaximum':
      return `is not under ${limit}`;
    case 'minItems':
    case 'minProperties':
      return `has fewer entries than ${limit}`;
    case 'maxItems':
    case 'maxProperties':
      return `has more entries than ${limit}`;
    case 'minLength':
      return 'is too short';
    case 'maxLength':
      return `is longer than ${limit} characters`;
    default:
      return 'is not in the form asked for';
  }
};

export interface Complaint {
  readonly path: readonly (string | number)[];
  readonly problem: string;
  readonly cure: string | undefined;
  /** The fault lies with the key, not with its value. */
  readonly onKey: boolean;
}

export const complaintOf = (error: ErrorObject): Complaint => {
  const path = pathOf(error);
  const schema = error.parentSchema ?? {};
  const description = typeof schema.description === 'string' ? schema.description : undefined;
  const whole = { path, onKey: false };
  switch (error.keyword) {
    case 'additionalProperties':
    case 'unevaluatedProperties': {
      const key = String(error.params.additionalProperty ?? error.params.unevaluatedProperty);
      const known = Object.keys(schema.properties ?? {});
      const near = nearestWord(key, known);
      return {
        path: [...path, key],
        problem: `unknown key ${quoted(key)}`,
        cure:
          near === undefined ? `known keys: ${known.join(', ')}` : `did you mean ${quoted(near)}?`,
        onKey: true,
      };
    }
    case 'required': {
      const key = String(error.params.missingProperty);
      const about = schema.properties?.[key]?.description;
      return { ...whole, problem: `the key ${quoted(key)} is missing`, cure: about };
    }
    case 'enum': {
      const near = nearestWord(String(error.data), error.params.allowedValues.map(String));
      return {
        ...whole,
        problem: `${quotedInPart(error.data)} is not one of ${listed(error.params.allowedValues)}`,
        cure: near === undefined ? undefined : `did you mean ${quoted(near)}?`,
      };
    }
    case 'type':
      if (path.length === 0 && error.data === null) {
        return { ...whole, problem: 'the file is empty', cure: description };
      }
      return {
        ...whole,
        problem: `${quotedInPart(error.data)} is not ${[error.params.type]
          .flat()
          .map((type) => TYPE_WORDS[type] ?? type)
          .join(' or ')}`,
        cure: description,
      };
    case 'oneOf':
    case 'anyOf':
    case 'dependentRequired':
      return { ...whole, problem: 'not in a form that is known', cure: description };
    default:
      return {
        ...whole,
        problem: `${quotedInPart(error.data)} ${limitWords(error)}`,
        cure: description,
      };
  }
};

/**
 * A wrong key is told first, then what lies deepest: it is the narrowest description of the fault. What
 * the branches of a choice say is left to the choice itself.
 */
export const worstOf = (errors: readonly ErrorObject[]): ErrorObject =>
  errors.find((error) => error.keyword === 'additionalProperties') ??
  errors
    .filter((error) => !/\/(oneOf|anyOf|not)\//.test(error.schemaPath))
    .sort((a, b) => b.instancePath.split('/').length - a.instancePath.split('/').length)[0];
