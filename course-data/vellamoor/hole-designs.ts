/**
 * What lies on each hole of Vellamoor. Distances in metres along the line of play from the rearmost tee
 * (negative: back from the middle of the green), offsets to its right. Invented.
 */
export interface HoleDesign {
  /** From, to, half width at the narrowest and at the widest. */
  readonly fairways: readonly (readonly [number, number, number, number])[];
  /** Along, offset, radius, stretch along the line. */
  readonly bunkers: readonly (readonly [number, number, number, number])[];
  /** Direction from the middle of the green (0: right, 90: behind, 270: in front), radius. */
  readonly greenside: readonly (readonly [number, number])[];
  /** Along, offset, radius, stretch along the line. */
  readonly ponds: readonly (readonly [number, number, number, number])[];
  /** Burns that cross: along, half width. */
  readonly burns: readonly (readonly [number, number])[];
  /** Along, offset, radius. */
  readonly woods: readonly (readonly [number, number, number])[];
  /** Along, offset, name (may be empty). */
  readonly trees: readonly (readonly [number, number, string])[];
  /** The side of the path: 1 right, -1 left. */
  readonly path: 1 | -1;
  /** Along, offset, kind, name. */
  readonly landmarks: readonly (readonly [
    number,
    number,
    'sprinkler' | 'plate' | 'post',
    string,
  ])[];
}

const design = (parts: Partial<HoleDesign>): HoleDesign => ({
  fairways: [],
  bunkers: [],
  greenside: [],
  ponds: [],
  burns: [],
  woods: [],
  trees: [],
  path: 1,
  landmarks: [],
  ...parts,
});

export const holeDesigns: Readonly<Record<string, HoleDesign>> = {
  '1': design({
    fairways: [[128, -26, 13, 18]],
    bunkers: [
      [232, 21, 5, 1.3],
      [256, -22, 4.5, 1.2],
    ],
    greenside: [
      [200, 4.5],
      [345, 4],
    ],
    trees: [
      [150, -34, ''],
      [182, 37, ''],
      [205, -38, 'lone thorn'],
    ],
    landmarks: [
      [-137, -11, 'sprinkler', 'head 1'],
      [-91, 10, 'sprinkler', 'head 2'],
      [-46, -9, 'sprinkler', 'head 3'],
    ],
  }),
  '2': design({
    fairways: [[140, -28, 12, 17]],
    bunkers: [
      [246, 20, 6, 1.2],
      [268, 23, 4, 1],
      [300, -20, 4.5, 1.4],
    ],
    greenside: [
      [170, 4],
      [10, 5],
      [300, 4],
    ],
    woods: [[210, -52, 14]],
    trees: [[330, 36, '']],
    path: -1,
    landmarks: [
      [-183, 0, 'plate', 'plate 200'],
      [-137, 9, 'sprinkler', 'head 1'],
      [-60, -10, 'sprinkler', 'head 2'],
    ],
  }),
  '3': design({
    fairways: [[112, -18, 9, 12]],
    greenside: [
      [205, 5],
      [330, 4.5],
      [80, 4],
    ],
    ponds: [[78, -12, 17, 1.2]],
    trees: [[60, 34, 'twin thorns']],
    landmarks: [[118, 8, 'sprinkler', 'head 1']],
  }),
  '4': design({
    fairways: [[135, -27, 13, 19]],
    bunkers: [
      [228, -21, 5, 1.3],
      [262, 22, 5.5, 1.2],
      [385, 19, 5, 1.2],
      [402, -18, 4.5, 1.1],
    ],
    greenside: [
      [190, 5],
      [350, 4],
    ],
    woods: [[330, 55, 15]],
    trees: [
      [300, -36, ''],
      [318, -39, ''],
    ],
    landmarks: [
      [-229, 0, 'plate', 'plate 250'],
      [-137, -10, 'sprinkler', 'head 1'],
      [-91, 10, 'sprinkler', 'head 2'],
      [-50, 0, 'sprinkler', 'head 3'],
    ],
  }),
  '5': design({
    fairways: [[120, -25, 12, 16]],
    bunkers: [
      [196, -20, 5, 1.2],
      [222, 22, 5, 1.3],
    ],
    greenside: [
      [160, 4],
      [20, 4],
      [265, 4],
    ],
    ponds: [[228, -46, 15, 1.3]],
    woods: [[160, 50, 13]],
    path: 1,
    landmarks: [
      [-110, 6, 'sprinkler', 'head 1'],
      [-70, -8, 'sprinkler', 'head 2'],
    ],
  }),
  '6': design({
    fairways: [[130, -26, 13, 18]],
    bunkers: [
      [240, -20, 5.5, 1.2],
      [318, 18, 4.5, 1.2],
    ],
    greenside: [
      [180, 5],
      [330, 4],
    ],
    burns: [[286, 2.2]],
    trees: [
      [200, 35, 'bent pine'],
      [222, 38, ''],
    ],
    path: -1,
    landmarks: [
      [-137, 10, 'sprinkler', 'head 1'],
      [-64, -9, 'sprinkler', 'head 2'],
    ],
  }),
  '7': design({
    fairways: [[128, -16, 9, 12]],
    bunkers: [[130, 14, 4, 1.2]],
    greenside: [
      [190, 4.5],
      [352, 4.5],
      [90, 4],
    ],
    trees: [[90, -34, '']],
    landmarks: [[132, -7, 'sprinkler', 'head 1']],
  }),
  '8': design({
    fairways: [
      [140, 282, 12, 16],
      [304, -32, 11, 14],
    ],
    bunkers: [
      [238, 21, 5, 1.3],
      [352, -17, 5, 1.2],
    ],
    greenside: [
      [180, 4],
      [0, 4],
    ],
    burns: [[293, 2.8]],
    woods: [[190, 52, 14]],
    trees: [[252, -34, 'leaning pine']],
    path: -1,
    landmarks: [
      [-183, 5, 'plate', 'plate 200'],
      [-91, -8, 'sprinkler', 'head 1'],
      [-58, 8, 'sprinkler', 'head 2'],
    ],
  }),
  '9': design({
    fairways: [[138, -27, 13, 18]],
    bunkers: [
      [236, 22, 5, 1.2],
      [258, 24, 4.5, 1.1],
      [372, -19, 5, 1.3],
      [440, 18, 5.5, 1.1],
    ],
    greenside: [
      [200, 4.5],
      [20, 4],
      [290, 4.5],
    ],
    woods: [[300, -55, 15]],
    landmarks: [
      [-229, 0, 'plate', 'plate 250'],
      [-183, 8, 'sprinkler', 'head 1'],
      [-96, -9, 'sprinkler', 'head 2'],
      [-48, 9, 'sprinkler', 'head 3'],
    ],
  }),
  '10': design({
    fairways: [[128, -26, 13, 18]],
    bunkers: [
      [226, -20, 5, 1.3],
      [292, 19, 4.5, 1.2],
    ],
    greenside: [
      [170, 4.5],
      [320, 4],
    ],
    trees: [
      [160, 36, ''],
      [176, 39, ''],
      [240, 35, 'old ash'],
    ],
    path: -1,
    landmarks: [
      [-137, -9, 'sprinkler', 'head 1'],
      [-73, 9, 'sprinkler', 'head 2'],
    ],
  }),
  '11': design({
    fairways: [
      [138, 396, 13, 18],
      [418, -27, 12, 15],
    ],
    bunkers: [
      [240, 21, 5.5, 1.3],
      [330, -21, 5, 1.2],
      [448, 17, 4.5, 1.1],
    ],
    greenside: [
      [185, 5],
      [345, 4],
    ],
    burns: [[407, 2.6]],
    woods: [[260, -52, 14]],
    landmarks: [
      [-229, 0, 'plate', 'plate 250'],
      [-165, 8, 'sprinkler', 'head 1'],
      [-82, -8, 'sprinkler', 'head 2'],
    ],
  }),
  '12': design({
    fairways: [[106, -15, 8, 10]],
    greenside: [
      [165, 4],
      [265, 4],
      [30, 3.5],
    ],
    ponds: [[70, 16, 16, 1.3]],
    trees: [[48, -33, '']],
    landmarks: [[100, -8, 'sprinkler', 'head 1']],
  }),
  '13': design({
    fairways: [[140, -27, 12, 17]],
    bunkers: [
      [236, -20, 5, 1.2],
      [260, -21, 4.5, 1.1],
      [344, 18, 5, 1.2],
    ],
    greenside: [
      [195, 4.5],
      [10, 4.5],
    ],
    woods: [[200, 54, 15]],
    trees: [[310, -35, 'split oak']],
    path: -1,
    landmarks: [
      [-183, 0, 'plate', 'plate 200'],
      [-123, -9, 'sprinkler', 'head 1'],
      [-66, 9, 'sprinkler', 'head 2'],
    ],
  }),
  '14': design({
    fairways: [[115, -24, 12, 16]],
    bunkers: [
      [190, 20, 5, 1.2],
      [214, -19, 5, 1.3],
      [232, 3, 4.5, 1],
    ],
    greenside: [
      [180, 4],
      [275, 4],
    ],
    trees: [[150, -36, '']],
    landmarks: [
      [-100, -6, 'sprinkler', 'head 1'],
      [-58, 8, 'sprinkler', 'head 2'],
    ],
  }),
  '15': design({
    fairways: [[116, -17, 9, 12]],
    bunkers: [[112, -13, 4.5, 1.2]],
    greenside: [
      [200, 4.5],
      [340, 4.5],
    ],
    trees: [[80, 35, '']],
    landmarks: [[122, 8, 'sprinkler', 'head 1']],
  }),
  '16': design({
    fairways: [[132, -29, 13, 17]],
    bunkers: [
      [230, 20, 5.5, 1.2],
      [304, -18, 5, 1.3],
    ],
    greenside: [
      [175, 4.5],
      [5, 4],
    ],
    woods: [[240, -54, 15]],
    trees: [[190, 36, 'white birch']],
    path: 1,
    landmarks: [
      [-160, 0, 'plate', 'plate 175'],
      [-91, 9, 'sprinkler', 'head 1'],
      [-55, -9, 'sprinkler', 'head 2'],
    ],
  }),
  '17': design({
    fairways: [[132, -27, 13, 17]],
    bunkers: [
      [222, 22, 5.5, 1.3],
      [300, 21, 5, 1.2],
      [404, 18, 4.5, 1.2],
    ],
    greenside: [
      [350, 4.5],
      [200, 4],
    ],
    ponds: [[286, -46, 22, 1.7]],
    trees: [[180, -36, '']],
    landmarks: [
      [-229, 5, 'plate', 'plate 250'],
      [-137, 9, 'sprinkler', 'head 1'],
      [-70, -9, 'sprinkler', 'head 2'],
    ],
  }),
  '18': design({
    fairways: [[138, -52, 13, 18]],
    bunkers: [
      [238, -21, 5, 1.2],
      [260, 22, 5.5, 1.2],
    ],
    greenside: [
      [185, 4.5],
      [350, 5],
      [80, 4],
    ],
    burns: [[376, 2.4]],
    trees: [
      [300, 35, 'signal elm'],
      [170, -36, ''],
    ],
    path: -1,
    landmarks: [
      [-137, -9, 'sprinkler', 'head 1'],
      [-91, 9, 'sprinkler', 'head 2'],
      [-64, 0, 'sprinkler', 'head 3'],
    ],
  }),
};
