//! Coefficients of GERG-2008 for nitrogen, oxygen and helium.
//!
//! Source: O. Kunz, W. Wagner, J. Chem. Eng. Data 57 (2012) 3032; ISO 20765-2.
//! The pair parameters are multiplied out as the public-domain AGA8 code of NIST prints them
//! (developed at the National Institute of Standards and Technology by employees of the U.S.
//! Federal Government; not subject to copyright there; no warranty of any kind).

/// Nitrogen, oxygen, helium: the order of every array here.
pub(super) const SPECIES: usize = 3;

/// Critical point.
pub(super) struct Critical {
    pub(super) density_mol_l: f64,
    pub(super) temperature_k: f64,
}

/// Mixing parameters of two gases: β_v², G_v, β_T², G_T.
pub(super) struct Pair {
    pub(super) first: usize,
    pub(super) second: usize,
    pub(super) bv: f64,
    pub(super) gv: f64,
    pub(super) bt: f64,
    pub(super) gt: f64,
}

/// One term of the residual Helmholtz energy: `n·δ^d·τ^t·exp(−δ^c)`.
pub(super) struct Term {
    pub(super) n: f64,
    pub(super) d: u8,
    pub(super) t: f64,
    pub(super) c: u8,
}

const fn term(n: f64, d: u8, t: f64, c: u8) -> Term {
    Term { n, d, t, c }
}

pub(super) const CRITICAL: [Critical; SPECIES] = [
    Critical {
        density_mol_l: 11.1839,
        temperature_k: 126.192,
    },
    Critical {
        density_mol_l: 13.63,
        temperature_k: 154.595,
    },
    Critical {
        density_mol_l: 17.399,
        temperature_k: 5.1953,
    },
];

pub(super) const PAIRS: [Pair; 3] = [
    Pair {
        first: 0,
        second: 1,
        bv: 0.999_043_768_703_932_9,
        gv: 0.080_851_216_033_617_49,
        bt: 0.994_389_070_790_166_9,
        gt: 138.606_445_425_442_1,
    },
    Pair {
        first: 0,
        second: 2,
        bv: 0.939_932_295_646_112_9,
        gv: 0.065_347_633_141_440_51,
        bt: 0.480_067_125_512_625_3,
        gt: 26.111_410_211_921_85,
    },
    Pair {
        first: 1,
        second: 2,
        bv: 1.0,
        gv: 0.065_098_083_417_719_75,
        bt: 1.0,
        gt: 28.340_208_247_294_16,
    },
];

pub(super) const TERMS: [&[Term]; SPECIES] = [&NITROGEN, &OXYGEN, &HELIUM];

const NITROGEN: [Term; 24] = [
    term(0.598_897_118_012_01, 1, 0.125, 0),
    term(-1.694_155_748_073_1, 1, 1.125, 0),
    term(0.245_797_361_917_18, 2, 0.375, 0),
    term(-0.237_224_567_551_75, 2, 1.125, 0),
    term(0.017_954_918_715_141, 4, 0.625, 0),
    term(0.014_592_875_720_215, 4, 1.5, 0),
    term(0.100_080_659_362_06, 1, 0.625, 1),
    term(0.731_571_153_855_3, 1, 2.625, 1),
    term(-0.883_722_723_363_66, 1, 2.75, 1),
    term(0.318_876_602_467_08, 2, 2.125, 1),
    term(0.207_664_917_287_99, 3, 2.0, 1),
    term(-0.019_379_315_454_158, 6, 1.75, 1),
    term(-0.169_366_415_549_83, 2, 4.5, 2),
    term(0.135_468_460_417_01, 3, 4.75, 2),
    term(-0.033_066_712_095_307, 3, 5.0, 2),
    term(-0.060_690_817_018_557, 4, 4.0, 2),
    term(0.012_797_548_292_871, 4, 4.5, 2),
    term(0.005_874_366_410_729_9, 2, 7.5, 3),
    term(-0.018_451_951_971_969, 3, 14.0, 3),
    term(0.004_722_662_204_247_2, 4, 11.5, 3),
    term(-0.005_202_407_968_059_9, 5, 26.0, 6),
    term(0.043_563_505_956_635, 6, 28.0, 6),
    term(-0.036_251_690_750_939, 6, 30.0, 6),
    term(-0.002_897_402_686_654_3, 7, 16.0, 6),
];

const OXYGEN: [Term; 12] = [
    term(0.888_782_863_697_01, 1, 0.25, 0),
    term(-2.487_943_331_214_8, 1, 1.125, 0),
    term(0.597_501_907_758_86, 1, 1.5, 0),
    term(0.009_650_181_706_188_1, 2, 1.375, 0),
    term(0.071_970_428_712_77, 3, 0.25, 0),
    term(0.000_223_374_430_001_95, 7, 0.875, 0),
    term(0.185_586_863_914_74, 2, 0.625, 1),
    term(-0.038_129_368_035_76, 5, 1.75, 1),
    term(-0.153_522_453_830_06, 1, 3.625, 2),
    term(-0.026_726_814_910_919, 4, 3.625, 2),
    term(-0.025_675_298_677_127, 3, 14.5, 3),
    term(0.009_571_430_212_366_8, 4, 12.0, 3),
];

const HELIUM: [Term; 12] = [
    term(-0.455_790_240_067_37, 1, 0.0, 0),
    term(1.251_639_075_492_5, 1, 0.125, 0),
    term(-1.543_823_165_062_1, 1, 0.75, 0),
    term(0.020_467_489_707_221, 4, 1.0, 0),
    term(-0.344_762_123_807_81, 1, 0.75, 1),
    term(-0.020_858_459_512_787, 3, 2.625, 1),
    term(0.016_227_414_711_778, 5, 0.125, 1),
    term(-0.057_471_818_200_892, 5, 1.25, 1),
    term(0.019_462_416_430_715, 5, 2.0, 1),
    term(-0.033_295_680_123_02, 2, 1.0, 2),
    term(-0.010_863_577_372_367, 1, 4.5, 3),
    term(-0.022_173_365_245_954, 2, 5.0, 3),
];
