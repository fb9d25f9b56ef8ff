// Written by the tests of the Go package search from its own tables; not edited.

export const TOKEN = "[0-9A-Za-z\\u00aa\\u00b2\\u00b3\\u00b5\\u00b9\\u00ba\\u00c0-\\u00d6\\u00d8-\\u00f6\\u00f8-\\u02af\\u0300-\\u037d\\u037f-\\u0386\\u0388-\\u1fff\\u2070-\\u2079\\u2080-\\u2089\\u2090-\\u209c]+(?:[.,'\u2019/_\\u2010\\u2011\\-][0-9A-Za-z\\u00aa\\u00b2\\u00b3\\u00b5\\u00b9\\u00ba\\u00c0-\\u00d6\\u00d8-\\u00f6\\u00f8-\\u02af\\u0300-\\u037d\\u037f-\\u0386\\u0388-\\u1fff\\u2070-\\u2079\\u2080-\\u2089\\u2090-\\u209c]+)*";
export const JOINTS = ".,'/_-\u2010\u2011";
export const FOLDS = "a \u00aa\u00e0\u00e1\u00e2\u00e3\u00e4\u00e5\u0101\u0103\u0105\u00c0\u00c1\u00c2\u00c3\u00c4\u00c5\u0100\u0102\u0104\nae \u00e6\u00c6\nc \u00e7\u0107\u0109\u010b\u010d\u00c7\u0106\u0108\u010a\u010c\nd \u00f0\u010f\u0111\u00d0\u010e\u0110\ne \u00e8\u00e9\u00ea\u00eb\u0113\u0115\u0117\u0119\u011b\u00c8\u00c9\u00ca\u00cb\u0112\u0114\u0116\u0118\u011a\ng \u011d\u011f\u0121\u0123\u011c\u011e\u0120\u0122\nh \u0125\u0127\u0124\u0126\ni \u00ec\u00ed\u00ee\u00ef\u0129\u012b\u012d\u012f\u0131\u00cc\u00cd\u00ce\u00cf\u0128\u012a\u012c\u012e\u0130\nj \u0135\u0134\nk \u0137\u0138\u0136\nl \u013a\u013c\u013e\u0140\u0142\u0139\u013b\u013d\u013f\u0141\nn \u00f1\u0144\u0146\u0148\u014b\u00d1\u0143\u0145\u0147\u014a\no \u00ba\u00f2\u00f3\u00f4\u00f5\u00f6\u00f8\u014d\u014f\u0151\u00d2\u00d3\u00d4\u00d5\u00d6\u00d8\u014c\u014e\u0150\noe \u0153\u0152\nr \u0155\u0157\u0159\u0154\u0156\u0158\ns \u015b\u015d\u015f\u0161\u0219\u015a\u015c\u015e\u0160\u0218\u017f\nss \u00df\nt \u0163\u0165\u0167\u021b\u0162\u0164\u0166\u021a\nth \u00fe\u00de\nu \u00b5\u03bc\u00f9\u00fa\u00fb\u00fc\u0169\u016b\u016d\u016f\u0171\u0173\u00d9\u00da\u00db\u00dc\u0168\u016a\u016c\u016e\u0170\u0172\nw \u0175\u0174\ny \u00fd\u00ff\u0177\u00dd\u0176\u0178\nz \u017a\u017c\u017e\u0179\u017b\u017d\n\u03c3 \u03c2\n0 \u2070\u2080\n1 \u00b9\u2081\n2 \u00b2\u2082\n3 \u00b3\u2083\n4 \u2074\u2084\n5 \u2075\u2085\n6 \u2076\u2086\n7 \u2077\u2087\n8 \u2078\u2088\n9 \u2079\u2089";
export const MAX_FORM = 40;
export const DIGITS = " !#$%&'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[]^_`abcdefghijklmnopqrstuvwxyz{|}~";
export const LAST_DIGITS = 60;
export const MORE_DIGITS = 33;
export const BIT_CHARS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
export const KEY_LETTERS = "eaiotrnslcdpmuhgbfyvwkxzjq0123456789-.,*";
export const WIDE_MARK = "*";
export const HEAD_WEIGHT = 8;
export const K1 = 1.2;
export const B = 0.5;
export const WEIGHT_PLURAL = 0.95;
export const WEIGHT_VARIANT = 0.85;
export const WEIGHT_COMPLETION = 0.7;
export const WEIGHT_TYPO = 0.6;
export const WEIGHT_SAME = 0.8;
export const MIN_TYPO = 3;
export const MAX_TYPO = 16;
export const TYPO_FIRST = 6;
export const TYPO_READINGS = 10;
export const RANGE_PARTS = 3;
export const SHORT_PREFIX = 2;
export const PHRASE_DEPTH = 24;
