import { describe, expect, it } from 'vitest';
import { coordinateSystem, localPlane, planeFor, tiedPlane } from '../../src/survey/crs/plane.js';
import { readSurvey } from '../../src/survey/read-survey.js';

describe('planes', () => {
  it('a local plane keeps lengths: Flinders Peak to Buninyong is 54972.271 m', () => {
    // GDA Technical Manual (Geoscience Australia / ICSM), GRS 80. At 54 km a transverse Mercator centred
    // between the two is long by s^2 / (24 R^2), 3 parts in a million: 17 cm.
    const dms = (d: number, m: number, s: number): number => d + m / 60 + s / 3600;
    const flinders = [dms(144, 25, 29.5244), -dms(37, 57, 3.7203)] as const;
    const buninyong = [dms(143, 55, 35.3839), -dms(37, 39, 10.1561)] as const;
    const plane = localPlane((flinders[0] + buninyong[0]) / 2, (flinders[1] + buninyong[1]) / 2);
    const a = plane.toPlane(...flinders);
    const b = plane.toPlane(...buninyong);
    const s = Math.hypot(a[0] - b[0], a[1] - b[1]);
    expect(Math.abs(s - 54972.271)).toBeLessThan(0.17);
  });

  it('a projected system is its own plane where it is true to scale, and not where it stretches', () => {
    expect(planeFor('EPSG:32630', [-1.5, 52.3]).name).toBe('EPSG:32630');
    expect(planeFor('32630', [-1.5, 52.3]).name).toBe('EPSG:32630');
    // Web Mercator is 1 / cos(52.3 degrees) = 1.64 too long; longitude and latitude are no plane at all.
    expect(planeFor('EPSG:3857', [-1.5, 52.3]).name).toMatch(/^local/);
    expect(planeFor('EPSG:4326', [-1.5, 52.3]).name).toMatch(/^local/);
  });

  it('the plane of a system in feet is in metres', () => {
    // NAD83 / Florida East (ftUS): false easting 656166.667 US survey feet, 200000.0001016 m.
    const plane = planeFor('EPSG:2236', [-81, 27]);
    expect(plane.toPlane(-81, 27)[0]).toBeCloseTo(200_000.0001016, 4);
    expect(coordinateSystem('EPSG:2236').unit).toBeCloseTo(1200 / 3937, 12);
  });

  it('reads longitude and latitude with no frame asked for, true to length', async () => {
    const text = 'lon,lat,h\n-1.5,52.3,10\n-1.4995,52.3,11\n-1.5,52.3004,12\n';
    const survey = await readSurvey(new TextEncoder().encode(text), {
      source: 'p.csv',
      crs: 'EPSG:4326',
    });
    const dx = survey.x[1] - survey.x[0];
    const dy = survey.y[2] - survey.y[0];
    // WGS 84 at 52.3 degrees: a / sqrt(1 - e2 sin2) cos(lat) a radian east, meridian radius a radian north.
    const [a, e2, lat] = [6_378_137, 0.00669437999, (52.3 * Math.PI) / 180];
    const w = 1 - e2 * Math.sin(lat) ** 2;
    expect(dx).toBeCloseTo((0.0005 * Math.PI * a * Math.cos(lat)) / Math.sqrt(w) / 180, 3);
    expect(dy).toBeCloseTo((0.0004 * Math.PI * a * (1 - e2)) / w ** 1.5 / 180, 3);
    expect([...survey.z]).toEqual([10, 11, 12]);
  });

  it('takes a WKT definition', () => {
    const wkt =
      'PROJCS["made up",GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["latitude_of_origin",0],PARAMETER["central_meridian",-3],PARAMETER["scale_factor",0.9996],PARAMETER["false_easting",500000],PARAMETER["false_northing",0],UNIT["metre",1]]';
    const [x, y] = coordinateSystem(wkt).project(-1.5, 52.3);
    const [ux, uy] = coordinateSystem('EPSG:32630').project(-1.5, 52.3);
    expect(Math.hypot(x - ux, y - uy)).toBeLessThan(0.001);
  });

  it.each([
    ['EPSG:1', /"EPSG:1" is not known; give an EPSG code such as EPSG:32630/],
    ['nowhere', /"nowhere" is not known/],
    ['+proj=nowhere', /definition of the coordinate system "\+proj=nowhere" cannot be used/],
    // Found by `npm run fuzz` (beside 2455).
    ['GEOGCS[,DATUM["or"],PA["ing",0.0]TER["Cactor",0.9996],U]]', /cannot be used; give a/],
  ])('refuses %s in one line', (crs, message) => {
    expect(() => coordinateSystem(crs, 'course.yaml')).toThrow(message);
    expect(() => coordinateSystem(crs, 'course.yaml')).toThrow(/^course\.yaml, crs: [^\n]*$/);
  });
});

describe('a local frame tied to the map by two marks', () => {
  const map = localPlane(-1.5, 52.3);
  const turn = 0.7;
  const toLocal = (x: number, y: number): readonly [number, number] => [
    5000 + x * Math.cos(turn) + y * Math.sin(turn),
    1000 - x * Math.sin(turn) + y * Math.cos(turn),
  ];
  const mark = (x: number, y: number, factor = 1) => ({
    local: toLocal(x, y).map((v) => v * factor) as unknown as [number, number],
    map: map.toMap(x, y),
  });

  it('carries points there and back to a millimetre', () => {
    const plane = tiedPlane(mark(-30, 10), mark(120, 45));
    for (const [x, y] of [
      [0, 0],
      [50, -20],
      [-200, 300],
    ]) {
      const there = plane.toPlane(...map.toMap(x, y));
      const expected = toLocal(x, y);
      expect(Math.hypot(there[0] - expected[0], there[1] - expected[1])).toBeLessThan(0.001);
      const back = map.toPlane(...plane.toMap(...there));
      expect(Math.hypot(back[0] - x, back[1] - y)).toBeLessThan(0.001);
    }
  });

  it('names feet as the likely cause, and refuses marks that do not fit or coincide', () => {
    const feet = 1 / 0.3048;
    expect(() => tiedPlane(mark(-30, 10, feet), mark(120, 45, feet))).toThrow(
      'the local coordinates look like feet; state the unit',
    );
    expect(() => tiedPlane(mark(-30, 10), { ...mark(120, 45), local: [0, 0] })).toThrow(
      'check the marks, their order and the unit',
    );
    expect(() => tiedPlane(mark(1, 1), mark(1, 1))).toThrow('within 1 m of each other');
  });
});
