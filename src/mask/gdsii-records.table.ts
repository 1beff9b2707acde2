/**
 * Record types of GDSII stream files: type and data-type byte of each record that is read or written.
 * Source: Rubin, Computer Aids for VLSI Design (1987), appendix C (rubin1987, start READ, the rest FROM MEMORY).
 */

/** Data types of a record's payload. */
export const dataTypes = { none: 0, bits: 1, int16: 2, int32: 3, real8: 5, text: 6 } as const;

export const recordTypes = {
  HEADER: [0x00, dataTypes.int16],
  BGNLIB: [0x01, dataTypes.int16],
  LIBNAME: [0x02, dataTypes.text],
  UNITS: [0x03, dataTypes.real8],
  ENDLIB: [0x04, dataTypes.none],
  BGNSTR: [0x05, dataTypes.int16],
  STRNAME: [0x06, dataTypes.text],
  ENDSTR: [0x07, dataTypes.none],
  BOUNDARY: [0x08, dataTypes.none],
  PATH: [0x09, dataTypes.none],
  SREF: [0x0a, dataTypes.none],
  AREF: [0x0b, dataTypes.none],
  TEXT: [0x0c, dataTypes.none],
  LAYER: [0x0d, dataTypes.int16],
  DATATYPE: [0x0e, dataTypes.int16],
  WIDTH: [0x0f, dataTypes.int32],
  XY: [0x10, dataTypes.int32],
  ENDEL: [0x11, dataTypes.none],
  SNAME: [0x12, dataTypes.text],
  COLROW: [0x13, dataTypes.int16],
  NODE: [0x15, dataTypes.none],
  TEXTTYPE: [0x16, dataTypes.int16],
  PRESENTATION: [0x17, dataTypes.bits],
  STRING: [0x19, dataTypes.text],
  STRANS: [0x1a, dataTypes.bits],
  MAG: [0x1b, dataTypes.real8],
  ANGLE: [0x1c, dataTypes.real8],
  REFLIBS: [0x1f, dataTypes.text],
  FONTS: [0x20, dataTypes.text],
  PATHTYPE: [0x21, dataTypes.int16],
  GENERATIONS: [0x22, dataTypes.int16],
  ATTRTABLE: [0x23, dataTypes.text],
  ELFLAGS: [0x26, dataTypes.bits],
  NODETYPE: [0x2a, dataTypes.int16],
  PROPATTR: [0x2b, dataTypes.int16],
  PROPVALUE: [0x2c, dataTypes.text],
  BOX: [0x2d, dataTypes.none],
  BOXTYPE: [0x2e, dataTypes.int16],
  PLEX: [0x2f, dataTypes.int32],
  BGNEXTN: [0x30, dataTypes.int32],
  ENDEXTN: [0x31, dataTypes.int32],
  FORMAT: [0x36, dataTypes.int16],
  MASK: [0x37, dataTypes.text],
  ENDMASKS: [0x38, dataTypes.none],
} as const satisfies Record<string, readonly [type: number, data: number]>;

export type RecordName = keyof typeof recordTypes;
