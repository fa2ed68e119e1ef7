import { trueGreen } from '../course-data/vellamoor/truth.js';
import { fitSurface } from '../src/surface/fit.js';
import { surveyOf, errorsOf, coverageOf } from './surface/demo-ground.js';
for (const [sp, no] of [[1, 0.008], [2, 0.008], [1, 0.03], [0.5, 0.02], [0.5, 0.004], [3, 0.03]]) {
  const all: number[][] = [];
  for (const id of ['1', '5', '6', '8', '10', '11', '14', '16']) for (const seed of [501, 502]) {
    const g = trueGreen(id); const { surface } = fitSurface(surveyOf(g.at, g.outline, seed, sp, no));
    const c = coverageOf(g, surface), e = errorsOf(g, g.outline, surface.at);
    all.push([c.height, c.grade, 1000 * e.height, 100 * e.grade, e.direction]);
  }
  console.log(sp, no, all[0].map((_, k) => (all.reduce((s, r) => s + r[k], 0) / all.length).toFixed(3)).join(' '), 'min h', Math.min(...all.map((r) => r[0])).toFixed(2), 'min g', Math.min(...all.map((r) => r[1])).toFixed(2));
}
