/** What a layout file says (layouts/*.yaml), checked and with all its defaults filled in. */
export interface Layout {
  readonly name: string;
  readonly title: string;
  readonly page: { readonly width: number; readonly height: number; readonly margins: Margins };
  readonly grid: {
    readonly columns: number;
    readonly rows: number;
    readonly gutter: number;
    readonly baseline: number;
  };
  /** Points. */
  readonly type: {
    readonly text: number;
    readonly table: number;
    readonly small: number;
    readonly heading: number;
    readonly title: number;
  };
  readonly inks: Inks;
  readonly green: {
    /** Largest scale of a green's image: metres of ground per metre of paper (480 is the Rules' limit). */
    readonly scaleLimit: number;
    readonly contourInterval: number;
    readonly bandThresholds: readonly number[];
  };
  readonly tables: {
    /** Metres. */
    readonly lengths: readonly number[];
    readonly past: number;
  };
  readonly use: 'practice' | 'play' | 'committee';
}

/** Millimetres; inner is the binding side. */
export interface Margins {
  readonly top: number;
  readonly bottom: number;
  readonly inner: number;
  readonly outer: number;
}

export interface Inks {
  readonly model: 'spot' | 'cmyk' | 'grey';
  /** Cyan, magenta, yellow, black, each 0 to 1, of the solid ink. */
  readonly dark: {
    readonly name: string;
    readonly cmyk: readonly [number, number, number, number];
  };
  readonly tint: {
    readonly name: string;
    readonly cmyk: readonly [number, number, number, number];
  };
}
