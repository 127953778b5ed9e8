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
        "crc-fusion",
        "CRC Handbook of Chemistry and Physics, section 6, Enthalpy of Fusion, as in the open data "
        "files of the chemicals library, edition not stated",
        "not stated",
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
        "Lange's Handbook of Chemistry, 15th ed., Table 5.13, aqueous antifreeze solutions, pure "
        "glycol; glycerol part after Bosart and Snoddy, and Lane",
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
        "Schröder's equation for an ideal liquid, from the melting point of crc-constants and the "
        "heat of fusion of crc-fusion",
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
    Source(
        "chiller-manual", "Freeze protection table of a chiller's installation manual", "not stated"
    ),
    Source("engine-manual", "Operation manual of a diesel engine, anti-freeze table", "not stated"),
    Source("car-manual-2000", "Service manual of a car, coolant selection", "2000"),
    Source("generator-manual-2007", "Application manual of generator sets, rev. 4", "2007"),
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
        "coolprop",
        "CoolProp, incompressible fluids MEG, MPG and MGL (fits of melinder-2010), asked live",
        "as installed",
        "computed",
    ),
)

#: Every source by key.
SOURCES = {source.key: source for source in _ALL}
