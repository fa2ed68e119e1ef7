import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { surfaceChange } from '../../src/event/surface-change.js';
import { calm, PLACES, wavy } from '../event/waves.js';

/** Set to write tests/event/recorded anew instead of comparing with it. */
const RECORD = process.env.RUNNEL_RECORD !== undefined;
const FILE = new URL('../event/recorded/moved-regions.json', import.meta.url).pathname;

const python = (script: string, input: unknown): unknown =>
  JSON.parse(
    execFileSync('python3', ['-c', script], { input: JSON.stringify(input), encoding: 'utf8' }),
  );

/** Regions by hysteresis, as SciPy labels them: nodes over 1.96 that hold one over the threshold. */
const LABEL = `
import json, sys, numpy as np, scipy
from scipy import ndimage
q = json.load(sys.stdin)
shape = (q["rows"], q["columns"])
d = np.array(q["difference"]).reshape(shape)
s = np.array([np.inf if v is None else v for v in q["sd"]]).reshape(shape)
inside = np.array(q["inside"]).reshape(shape) == 1
out = []
for sign in (1, -1):
    score = sign * d / s
    labels, n = ndimage.label((score >= 1.96) & inside)
    for k in range(1, n + 1):
        part = labels == k
        if score[part].max() <= q["threshold"]: continue
        area = part.sum() * q["step"] ** 2
        if area < q["least"]: continue
        out.append({"sign": sign, "area": float(area), "mean": float(d[part].mean()),
                    "greatest": float(sign * (sign * d[part]).max())})
out.sort(key=lambda r: -r["area"])
json.dump({"made by": "SciPy %s, scipy.ndimage.label" % scipy.__version__, "regions": out}, sys.stdout)
`;

const QUANTILES = `
import json, sys, scipy
from scipy.stats import norm
ps = json.load(sys.stdin)
json.dump([[p, float(norm.ppf(p))] for p in ps], sys.stdout)
`;

it('moved regions are those that SciPy labels', () => {
  const change = surfaceChange(calm, wavy, PLACES);
  const { grid } = change;
  const labelled = python(LABEL, {
    rows: grid.rows,
    columns: grid.columns,
    step: grid.step,
    inside: Array.from(grid.inside),
    difference: Array.from(change.difference),
    sd: Array.from(change.sd, (v) => (Number.isFinite(v) ? v : null)),
    threshold: change.threshold,
    least: 0.5,
  });
  if (RECORD) writeFileSync(FILE, `${JSON.stringify(labelled, null, 2)}\n`);
  const recorded = JSON.parse(readFileSync(FILE, 'utf8'));
  expect((labelled as { regions: unknown }).regions).toEqual(recorded.regions);
});

it('the recorded quantiles are those of the SciPy at hand', () => {
  const { quantiles } = JSON.parse(
    readFileSync(new URL('../event/recorded/normal-quantiles.json', import.meta.url), 'utf8'),
  ) as { quantiles: [number, number][] };
  const now = python(
    QUANTILES,
    quantiles.map(([p]) => p),
  ) as [number, number][];
  now.forEach(([, z], i) => {
    expect(z).toBeCloseTo(quantiles[i][1], 11);
  });
});
