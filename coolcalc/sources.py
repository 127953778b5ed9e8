"""Who published what: one entry a source; docstrings, data rows and answers cite its key."""

from typing import NamedTuple


class Source(NamedTuple):
    """One source.

    Attributes
    ----------
    key : str
        What docstrings and tables cite.
    title : str
        Author, title, edition.
    year : str
    kind : str
        "published", "computed" (a published formula evaluated), "memory", or "common practice".
    """

    key: str
    title: str
    year: str
    kind: str = "published"


_ALL = (
    Source(
        "crc-concentrative",
        "CRC Handbook of Chemistry and Physics, 102nd ed., section 5, Concentrative Properties of "
        "Aqueous Solutions (20 °C); pure glycol and water",
        "2021",
    ),
    Source(
        "crc-constants",
        "CRC Handbook of Chemistry and Physics, 102nd ed., section 3, Physical Constants of "
        "Organic Compounds",
        "2021",
    ),
    Source(
        "melinder-2010",
        "Melinder, Properties of Secondary Working Fluids for Indirect Systems, 2nd ed., IIR; "
        "polynomials, evaluated",
        "2010",
        "computed",
    ),
    Source(
        "melinder-iir",
        "Melinder, IIR, freezing point series as printed, edition not stated; the propylene "
        "glycol and glycerol series differ from the 2010 polynomials",
        "not stated",
        "computed",
    ),
    Source(
        "conde-2011",
        "Conde Engineering, Thermophysical properties of brines: Models; evaluated",
        "2011",
        "computed",
    ),
    Source(
        "ashrae-2001",
        "ASHRAE Handbook Fundamentals, Physical Properties of Secondary Coolants, section "
        "Inhibited Glycols",
        "2001",
    ),
    Source(
        "ashrae-recalled",
        "ASHRAE Handbook Fundamentals, ethylene glycol, rows above 60 mass %, from memory",
        "2001",
        "memory",
    ),
    Source(
        "lange-15",
        "Lange's Handbook of Chemistry, 15th ed., Table 5.13, aqueous antifreeze solutions; "
        "glycerol part after Bosart and Snoddy, and Lane",
        "1999",
    ),
    Source(
        "lange-recalled",
        "Lange's Handbook of Chemistry, 15th ed., Table 5.13, ethylene glycol part, from memory",
        "1999",
        "memory",
    ),
    Source(
        "lane-recalled",
        "Lane, Freezing points of glycerol and its aqueous solutions, Ind. Eng. Chem. 17, 924, "
        "from memory",
        "1925",
        "memory",
    ),
    Source("bosart-1927", "Bosart and Snoddy, Ind. Eng. Chem., doi 10.1021/ie50228a032", "1927"),
    Source("nakanishi-1967", "Nakanishi et al., densities by pycnometer at 25 °C", "1967"),
    Source("macbeth-1951", "MacBeth and Thompson, Anal. Chem. 23, 618", "1951"),
    Source(
        "george-2003",
        "George and Sastry, J. Chem. Eng. Data 48, doi 10.1021/je0340755, vibrating tube",
        "2003",
    ),
    Source("sun-2004", "Sun and Teja, J. Chem. Eng. Data 49, 1311", "2004"),
    Source(
        "eisenbach-2021",
        "Eisenbach et al., Helmholtz equation of state of propylene glycol",
        "2021",
    ),
    Source(
        "vdi-atlas",
        "VDI Heat Atlas, PPDS density coefficients of ethylene glycol, evaluated",
        "2010",
        "computed",
    ),
    Source(
        "perry-8",
        "Perry's Chemical Engineers' Handbook, 8th ed., DIPPR 105 density coefficients, evaluated",
        "2008",
        "computed",
    ),
    Source(
        "volk-2018",
        "Volk and Kähler, Density model for aqueous glycerol solutions, Exp. Fluids 59; the pure "
        "glycerol line, evaluated",
        "2018",
        "computed",
    ),
    Source("gerke-2023", "Gerke, Abbe refractometer measurements, 20 and 30 °C", "2023"),
    Source(
        "hoyt-1933",
        "Hoyt, refractive index of glycerol solutions, as in Glycerine Producers Association "
        "(1963)",
        "1933",
    ),
    Source(
        "schiebener-1990",
        "Schiebener et al., J. Phys. Chem. Ref. Data 19, 677, refractive index of water against "
        "vacuum, via CRC 75th ed.",
        "1990",
    ),
    Source("kell-1975", "Kell, density of water at 1 atm, J. Chem. Eng. Data 20, 97", "1975"),
    Source("iapws-95", "IAPWS-95 equation of state of water, evaluated", "1995", "computed"),
    Source(
        "cryoscopic-law",
        "Law of dilute solutions with the cryoscopic constant of water, 1.86 K kg/mol (textbook "
        "value)",
        "not dated",
        "computed",
    ),
    Source(
        "ideal-liquidus",
        "Schröder's equation for an ideal liquid, from the melting points of crc-constants; heats "
        "of fusion 9.96 kJ/mol (ethylene glycol) and 18.3 kJ/mol (glycerol) from memory",
        "1893",
        "computed",
    ),
    Source(
        "zinchenko",
        "Zinchenko and Zinchenko, calorimetry of water and ethylene glycol: stable eutectics at "
        "-42.7 and -48.7 °C, a metastable one at -63 °C, hydrates 1:1 and 1:3",
        "not stated",
    ),
    Source(
        "bowles-sae",
        "Bowles, SAE paper on automatic freeze-point determination: laboratories agree only up "
        "to about 60 mass % of ethylene glycol; 58 to 80 mass % disputed",
        "not stated",
    ),
    Source(
        "glass-recalled",
        "Glass transition of propylene glycol near 170 K, lower with water, from memory",
        "not stated",
        "memory",
    ),
    Source("recalled", "Typical handbook value, from memory", "not stated", "memory"),
    Source("sae-j814", "SAE J814, Coolants for internal combustion engines", "2023"),
    Source("army-tm-5-3895", "US Army TM 5-3895-382-24, glycol chart", "not stated"),
    Source("army-tm-5-6115", "US Army TM 5-6115-400-12, Table 2-1", "not stated"),
    Source("army-od1001", "US Army ordnance course OD1001", "not stated"),
    Source("jis-k2234", "JIS K 2234, Engine antifreeze coolants", "not stated"),
    Source("astm-d4985", "ASTM D4985-10, scope", "2010"),
    Source(
        "astm-d3321",
        "ASTM D3321, refractometer for engine coolants, section 3.3: accurate to 2 °F",
        "not stated",
    ),
    Source("astm-d6210", "ASTM D6210, scope: 40 to 60 volume % of concentrate", "not stated"),
    Source(
        "wagner-1993",
        "Wagner and Pruss, International equations for the saturation properties of ordinary water "
        "substance, J. Phys. Chem. Ref. Data 22, 783; IAPWS SR1-86(1992)",
        "1993",
    ),
    Source(
        "ice-line",
        "Vapour pressure of ice (IAPWS R14-08(2011), Wagner et al.) at published freezing points: "
        "where ice and mix stand side by side they have the same vapour",
        "2011",
        "computed",
    ),
    Source(
        "zhang-2016",
        "Zhang et al., J. Chem. Eng. Data 61, 2596, boiling points of water and ethylene glycol at "
        "101.3 kPa; an activity equation fitted to them, evaluated",
        "2016",
        "computed",
    ),
    Source(
        "fujita-1989",
        "Fujita and Kikuchi, Trans. JSRAE 6, 183, vapour pressure of water and ethylene glycol, "
        "-10 to 60 °C, 20 to 50 mass %; their formula, evaluated",
        "1989",
        "computed",
    ),
    Source(
        "enthalpy-2009",
        "Heat of mixing of water and ethylene glycol at 25 °C, Calvet calorimetry, Thermochim. "
        "Acta, doi 10.1016/j.tca.2009.06.004",
        "2009",
    ),
    Source(
        "enthalpy-2005",
        "Heat of mixing of water and propylene glycol at 25 °C, Calvet calorimetry, J. Chem. "
        "Thermodyn., doi 10.1016/j.jct.2005.06.018",
        "2005",
    ),
    Source(
        "zhang-2022",
        "Zhang, Grace and Sun, Drying Technology 40, 2404, water activity over glycerol and water, "
        "0 to 100 °C; their equation, evaluated",
        "2022",
        "computed",
    ),
    Source(
        "glycerol-tx",
        "Boiling points of water and glycerol at about 14.2 kPa, as plotted by others, who do not "
        "name the paper",
        "not stated",
    ),
    Source(
        "trc-vapour",
        "TRC vapour pressure database TRCVP 2.2P, as in the CRC Handbook's table of vapour "
        "pressures",
        "not stated",
    ),
    Source(
        "crc-44",
        "CRC Handbook of Chemistry and Physics, 44th ed., vapour pressure of ethylene glycol",
        "1962",
    ),
    Source(
        "crc-vaporization",
        "CRC Handbook of Chemistry and Physics, table of heats of vaporization, normal boiling "
        "points",
        "not stated",
    ),
    Source(
        "perry-8-vapour",
        "Perry's Chemical Engineers' Handbook, 8th ed., Table 2-8, DIPPR 101 vapour pressure "
        "coefficients, evaluated",
        "2008",
        "computed",
    ),
    Source(
        "landolt-20",
        "Landolt-Börnstein, New Series IV/20, Antoine coefficients, evaluated",
        "not stated",
        "computed",
    ),
    Source(
        "vdi-vapour",
        "VDI Heat Atlas, Wagner coefficients of the vapour pressure of glycerol, evaluated",
        "2010",
        "computed",
    ),
    Source(
        "zhou-eos",
        "Equation of state of ethylene glycol, normal boiling point in the head of its fluid file",
        "not stated",
    ),
    Source(
        "webbook",
        "NIST Chemistry WebBook, propylene glycol, boiling point, average of 14 values",
        "not stated",
    ),
    Source(
        "boiling-recalled",
        "ASHRAE Handbook Fundamentals, boiling points of ethylene and propylene glycol with water, "
        "from memory",
        "2001",
        "memory",
    ),
    Source(
        "generator-manual-2007",
        "Generator sets, application and installation manual, table 24, freezing and boiling "
        "points against the concentration of antifreeze",
        "2007",
    ),
    Source(
        "coolprop",
        "CoolProp, incompressible fluids MEG, MPG and MGL (fits of melinder-2010), asked live",
        "as installed",
        "computed",
    ),
)

#: Every source by key.
SOURCES = {source.key: source for source in _ALL}
