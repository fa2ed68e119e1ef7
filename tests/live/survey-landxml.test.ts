import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { readSurvey } from '../../src/survey/read-survey.js';

/**
 * A LandXML 1.2 surface that Python writes: SciPy's Delaunay triangles of made-up points in US survey
 * feet, a vertex that no face uses, an invisible face, and a breakline. (No program in the registries at
 * hand writes LandXML by itself; the XML and the triangles are another's, the layout is the schema's.)
 */
const PYTHON = `
import json, sys
import numpy as np
from scipy import __version__
from scipy.spatial import Delaunay
import xml.etree.ElementTree as E
rng = np.random.default_rng(7)
xy = np.round(rng.uniform(0, 60, (70, 2)), 3) + [6400000, 2100000]
z = np.round(120 + 0.02 * (xy[:, 0] - 6400000) + rng.normal(0, 0.02, 70), 3)
E.register_namespace('', 'http://www.landxml.org/schema/LandXML-1.2')
N = '{http://www.landxml.org/schema/LandXML-1.2}'
root = E.Element(N + 'LandXML', version='1.2', date='2026-01-31', time='12:00:00')
units = E.SubElement(root, N + 'Units')
E.SubElement(units, N + 'Imperial', linearUnit='USSurveyFoot', elevationUnit='foot', areaUnit='squareFoot',
  volumeUnit='cubicYard', temperatureUnit='fahrenheit', pressureUnit='inHG')
surface = E.SubElement(E.SubElement(root, N + 'Surfaces'), N + 'Surface', name='made up')
source = E.SubElement(surface, N + 'SourceData')
line = E.SubElement(E.SubElement(source, N + 'Breaklines'), N + 'Breakline', brkType='standard')
wall = [[xy[k][1], xy[k][0], z[k]] for k in (3, 8, 21)]
E.SubElement(line, N + 'PntList3D').text = ' '.join('%.3f' % v for p in wall for v in p)
definition = E.SubElement(surface, N + 'Definition', surfType='TIN')
points = E.SubElement(definition, N + 'Pnts')
for k in range(70):
  E.SubElement(points, N + 'P', id=str(k + 1)).text = '%.3f %.3f %.3f' % (xy[k][1], xy[k][0], z[k])
E.SubElement(points, N + 'P', id='900').text = '2100000.0 6400000.0 9999.0'
faces = E.SubElement(definition, N + 'Faces')
for a, b, c in Delaunay(xy).simplices:
  E.SubElement(faces, N + 'F').text = '%d %d %d' % (a + 1, b + 1, c + 1)
E.SubElement(faces, N + 'F', i='1').text = '900 1 2'
E.indent(root)
print(json.dumps({'version': 'SciPy ' + __version__ + ', Python ' + sys.version.split()[0],
  'xml': E.tostring(root, encoding='unicode'), 'x': xy[:, 0].tolist(), 'y': xy[:, 1].tolist(), 'z': z.tolist(), 'wall': wall}))
`;

interface Written {
  readonly version: string;
  readonly xml: string;
  readonly x: number[];
  readonly y: number[];
  readonly z: number[];
  readonly wall: number[][];
}

it('reads a LandXML surface that Python and SciPy write', async () => {
  const made = JSON.parse(execFileSync('python3', ['-c', PYTHON], { encoding: 'utf8' })) as Written;
  const path = new URL('../survey/recorded/surface.xml', import.meta.url);
  if (process.env.RUNNEL_RECORD !== undefined) {
    writeFileSync(
      path,
      `<!-- written by ${made.version}; see tests/live/survey-landxml.test.ts -->\n${made.xml}\n`,
    );
  }
  const survey = await readSurvey(new TextEncoder().encode(made.xml), { source: 'surface.xml' });
  const feet = 1200 / 3937;
  expect(survey.kind).toBe('tin');
  expect([...survey.x]).toEqual(made.x.map((v) => v * feet));
  expect([...survey.y]).toEqual(made.y.map((v) => v * feet));
  expect([...survey.z]).toEqual(made.z.map((v) => v * 0.3048));
  expect(survey.breaklines).toEqual([
    made.wall.map(([north, east, h]) => [east * feet, north * feet, h * 0.3048]),
  ]);
  const then = await readSurvey(new Uint8Array(readFileSync(path)), { source: 'surface.xml' });
  expect(then).toEqual(survey);
});
