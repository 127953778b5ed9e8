"""What can be typed: for each kind of field its units, their spellings, and its limits.

Every conversion is derived once from exact definitions: 1 in = 0.0254 m, 1 lb = 0.45359237 kg,
1 US gal = 231 in³, 1 imperial gal = 4.54609 L, standard gravity 9.80665 m/s².
"""

from ._unit_kinds import Kind, Unit, fold, spellings_of

_INCH_M = 0.0254
_POUND_KG = 0.45359237
_GRAVITY_M_S2 = 9.80665
_US_GAL_M3 = 3.785411784e-3
_IMP_GAL_M3 = 4.54609e-3

#: What a strength can be a percentage of; volumes are taken before mixing, at 20 °C.
STRENGTH_BASES = ("volume % of product", "volume % of glycol", "mass % of glycol")

# --- volume ---------------------------------------------------------------------------------------

_MEASURES = {  # name: (gallon's share in US, in imperial, spellings, pint's name)
    "gal": (1.0, 1.0, ("gal", "gallon", "gallons"), "gallon"),
    "qt": (4.0, 4.0, ("qt", "qts", "quart", "quarts"), "quart"),
    "pt": (8.0, 8.0, ("pt", "pts", "pint", "pints"), "pint"),
    "fl oz": (
        128.0,
        160.0,
        ("fl oz", "fl. oz.", "fl.oz.", "floz", "fluid ounce", "fluid ounces"),
        "fluid_ounce",
    ),
}
_US_WORDS = ("US", "U.S.", "USA")
_IMP_WORDS = ("imp", "imp.", "imperial", "UK")

_VOLUME = {
    "L": Unit(1e-3, "liter"),
    "mL": Unit(1e-6, "milliliter"),
    "cL": Unit(1e-5, "centiliter"),
    "dL": Unit(1e-4, "deciliter"),
    "m³": Unit(1.0, "m^3"),
    "cm³": Unit(1e-6, "cm^3"),
}
_VOLUME_SPELLINGS: dict[str, tuple[str, ...]] = {
    "L": ("litre", "litres", "liter", "liters", "ltr", "dm3", "dm³"),
    "mL": ("millilitre", "millilitres", "milliliter", "milliliters"),
    "m³": ("m3", "m^3"),
    "cm³": ("cm3", "cc"),
}
_VOLUME_UNCLEAR: dict[str, tuple[str, ...]] = {"oz": ("US fl oz", "imp fl oz")}
for _name, (_us, _imp, _words, _pint) in _MEASURES.items():
    _VOLUME[f"US {_name}"] = Unit(_US_GAL_M3 / _us, _pint)
    _VOLUME[f"imp {_name}"] = Unit(_IMP_GAL_M3 / _imp, f"imperial_{_pint}")
    _VOLUME_SPELLINGS[f"US {_name}"] = tuple(f"{us} {w}" for us in _US_WORDS for w in _words)
    _VOLUME_SPELLINGS[f"imp {_name}"] = tuple(f"{imp} {w}" for imp in _IMP_WORDS for w in _words)
    for _word in _words:
        _VOLUME_UNCLEAR[_word] = (f"US {_name}", f"imp {_name}")

# --- temperature ----------------------------------------------------------------------------------

_TEMPERATURE = {
    "°C": Unit(1.0, "degC", base=273.15),
    "°F": Unit(5 / 9, "degF", zero=32.0, base=273.15),
    "K": Unit(1.0, "kelvin"),
}
_DIFFERENCE = {
    "K": Unit(1.0, "kelvin"),
    "°C": Unit(1.0, "delta_degC"),
    "°F": Unit(5 / 9, "delta_degF"),
}
_DEGREES = {
    "°C": ("C", "° C", "ºC", "º C", "℃", "degC", "deg C", "degrees C", "Celsius"),
    "°F": ("F", "° F", "ºF", "º F", "℉", "degF", "deg F", "degrees F", "Fahrenheit"),
    "K": ("kelvin",),
}
_DELTAS = {"°C": ("delta_degC", "Δ°C"), "°F": ("delta_degF", "Δ°F")}
_NO_DEGREE = frozenset({"°", "º", "deg", "degree", "degrees"})


def _temperature(low, high, low_rule, high_rule, example):
    return Kind(
        si="kelvin",
        units=_TEMPERATURE,
        spellings=spellings_of(_DEGREES, _TEMPERATURE),
        offer=("°C", "°F"),
        example=example,
        low=low,
        high=high,
        low_rule=low_rule,
        high_rule=high_rule,
        unit_less=_NO_DEGREE,
        unclear=dict.fromkeys(_NO_DEGREE, ("°C", "°F")),
        wrong={
            fold(spelling): "is a difference of temperatures; a temperature is asked for"
            for spellings in _DELTAS.values()
            for spelling in spellings
        },
    )


# --- pressure -------------------------------------------------------------------------------------

_PRESSURE = {
    "kPa": Unit(1e3, "kPa"),
    "bar": Unit(1e5, "bar"),
    "psi": Unit(_POUND_KG * _GRAVITY_M_S2 / _INCH_M**2, "psi"),
    "Pa": Unit(1.0, "Pa"),
    "hPa": Unit(1e2, "hPa"),
    "mbar": Unit(1e2, "mbar"),
    "kgf/cm²": Unit(_GRAVITY_M_S2 * 1e4, "kgf/cm^2"),
}
_PRESSURE_WORDS = {"gauge": ("gauge", "(gauge)"), "absolute": ("absolute", "(absolute)", "abs")}
_PRESSURE_SHORT = {
    "gauge": {"psi": ("psig",), "bar": ("barg",)},
    "absolute": {"psi": ("psia",), "bar": ("bara",)},
}


def _pressure_spellings(word):
    """Spellings that carry the word, by the label that shows it."""
    return {
        f"{unit} {word}": (
            *(f"{name} {w}" for name in (unit, unit.replace("²", "2")) for w in words),
            *_PRESSURE_SHORT[word].get(unit, ()),
        )
        for words in (_PRESSURE_WORDS[word],)
        for unit in _PRESSURE
    }


def _pressure(word, other, why, low, low_rule):
    units = {f"{name} {word}": unit for name, unit in _PRESSURE.items()}
    own = {
        label: (*spellings, name, name.replace("²", "2"))
        for (label, spellings), name in zip(
            _pressure_spellings(word).items(), _PRESSURE, strict=True
        )
    }
    others = _pressure_spellings(other).values()
    return Kind(
        si="pascal",
        units=units,
        spellings=spellings_of(own, units),
        offer=(f"kPa {word}", f"psi {word}"),
        example=f"110 kPa {word}",
        low=low,
        high=1e7,
        low_rule=low_rule,
        wrong={fold(spelling): why for spellings in others for spelling in spellings},
    )


# --- strength -------------------------------------------------------------------------------------

_PERCENT = Unit(0.01, "percent")
_WHOLES = {"product": ("product", "concentrate"), "glycol": ("glycol",)}
_BY = {"volume": ("vol", "vol.", "vol.-", "volume"), "mass": ("mass", "wt", "weight")}


def _basis(whole, by):
    """Spellings of a percentage of a whole, by volume or mass."""
    for name in _WHOLES[whole]:
        for word in _BY[by]:
            for of in (name, f"of {name}"):
                yield f"{word}% {of}"
                yield f"% {word} {of}"
                yield f"% by {word} {of}"
            yield f"% {name} by {word}"
        if whole == "product":
            yield f"% {name}"
            yield f"% of {name}"


_STRENGTH_SPELLINGS = dict(
    zip(
        STRENGTH_BASES,
        (
            tuple(_basis("product", "volume")),
            (*_basis("glycol", "volume"), "% v/v glycol"),
            (*_basis("glycol", "mass"), "% w/w glycol", "% m/m glycol"),
        ),
        strict=True,
    )
)
_STRENGTH = dict.fromkeys(STRENGTH_BASES, _PERCENT)
_PER_CENT = ("%", "percent", "per cent", "pct")
_STRENGTH_UNCLEAR = {
    **dict.fromkeys(_PER_CENT, STRENGTH_BASES),
    **dict.fromkeys(("% glycol", "% of glycol"), STRENGTH_BASES[1:]),
    **dict.fromkeys(
        ("vol%", "% vol", "% by volume", "% v/v", "volume%", "% by vol", "% volume"),
        STRENGTH_BASES[:2],
    ),
}

# --- plain numbers --------------------------------------------------------------------------------


def _plain(unit, example, low, high, rule, *, both=False, label="", spellings=()):
    """Return a kind with at most one unit, left out freely; ``both``: one rule for both limits."""
    return Kind(
        si=unit.pint,
        units={label: unit},
        spellings=spellings_of({label: spellings}, (label,)),
        offer=(label,),
        example=example,
        low=low,
        high=high,
        low_rule=rule,
        high_rule=rule if both else "",
        bare=label,
    )


_NUMBER = Unit(1.0, "dimensionless")
_SHARE = {"": _NUMBER, "%": _PERCENT}

_MASS = {
    "kg": Unit(1.0, "kg"),
    "g": Unit(1e-3, "g"),
    "t": Unit(1e3, "metric_ton"),
    "lb": Unit(_POUND_KG, "lb"),
    "oz": Unit(_POUND_KG / 16, "oz"),
}
_LENGTH = {
    "m": Unit(1.0, "m"),
    "cm": Unit(1e-2, "cm"),
    "mm": Unit(1e-3, "mm"),
    "in": Unit(_INCH_M, "inch"),
    "ft": Unit(12 * _INCH_M, "foot"),
}
_LENGTH_SPELLINGS = {
    "m": ("metre", "metres", "meter", "meters"),
    "in": ("inch", "inches"),
    "ft": ("foot", "feet"),
}
_GROWTH = {"ppm/K": Unit(1e-6, "ppm/kelvin"), "ppm/°F": Unit(1.8e-6, "ppm/delta_degF")}
_GROWTH_PER = {"ppm/K": ("K", "°C", "C", "kelvin", "degC"), "ppm/°F": ("°F", "F", "degF")}
_GROWTH_WORDS = ("ppm", "parts per million")
_GROWTH_SPELLINGS = {
    label: tuple(
        f"{word}{by}{each}"
        for word in _GROWTH_WORDS
        for by in ("/", " / ", " per ")
        for each in degrees
    )
    for label, degrees in _GROWTH_PER.items()
}
_DENSITY = {
    "kg/L": Unit(1e3, "kg/L"),
    "kg/m³": Unit(1.0, "kg/m^3"),
    "g/mL": Unit(1e3, "g/mL"),
    "g/cm³": Unit(1e3, "g/cm^3"),
    "lb/US gal": Unit(_POUND_KG / _US_GAL_M3, "lb/gallon"),
    "lb/imp gal": Unit(_POUND_KG / _IMP_GAL_M3, "lb/imperial_gallon"),
}
# As CaCO3. A German degree, unknown to pint, is 10 mg of CaO in a litre; a grain is 1/7000 lb.
_HARDNESS = {
    "mg/L": Unit(1.0, "mg/L"),
    "°dH": Unit(10.0 * 100.086 / 56.077, ""),  # molar masses, IUPAC 2021
    "gr/US gal": Unit(1e3 * _POUND_KG / 7000 / _US_GAL_M3, "grain/gallon"),
    "gr/imp gal": Unit(1e3 * _POUND_KG / 7000 / _IMP_GAL_M3, "grain/imperial_gallon"),
}
_AS_LIME = tuple(f"{u} {of}CaCO{n}" for u in ("mg/L", "ppm") for of in ("", "as ") for n in "3₃")
_HARDNESS_SPELLINGS = {
    "mg/L": ("ppm", *_AS_LIME),
    "°dH": ("dH", "° dH", "°d", "German degrees"),
    "gr/US gal": ("gpg", "grains/US gal", "grains per US gallon"),
    "gr/imp gal": ("grains/imp gal", "grains per imperial gallon"),
}
_GRAINS = ("gr/gal", "grains/gal", "grains/gallon", "grains per gallon")
_INDEX_RULE = "Water, glycol and their mixes are from 1.3 to 1.5."
_PER_GALLON = ("lb/US gal", "lb/imp gal")

#: What each kind of field takes. Upper limits without a rule lie far beyond any cooling system.
KINDS = {
    "volume": Kind(
        si="m^3",
        units=_VOLUME,
        spellings=spellings_of(_VOLUME_SPELLINGS, _VOLUME),
        offer=("L", "US qt", "imp pt"),
        example="10 L",
        low=0.0,
        high=1e4,
        low_rule="A volume is never below 0.",
        unclear=_VOLUME_UNCLEAR,
    ),
    "mass": Kind(
        si="kg",
        units=_MASS,
        spellings=spellings_of(
            {
                "kg": ("kilogram", "kilograms"),
                "g": ("gram", "grams"),
                "t": ("tonne", "tonnes"),
                "lb": ("lbs", "pound", "pounds"),
                "oz": ("ounce", "ounces"),
            },
            _MASS,
        ),
        offer=("kg", "lb"),
        example="12 kg",
        low=0.0,
        high=1e7,
        low_rule="A mass is never below 0.",
    ),
    "length": Kind(
        si="m",
        units=_LENGTH,
        spellings=spellings_of(_LENGTH_SPELLINGS, _LENGTH),
        offer=("m", "ft"),
        example="1.5 m",
        low=0.0,
        high=1e5,
        low_rule="A length is never below 0.",
    ),
    "bore": Kind(
        si="m",
        units=_LENGTH,
        spellings=spellings_of(_LENGTH_SPELLINGS, _LENGTH),
        offer=("mm", "in"),
        example="32 mm",
        low=0.0,
        high=2.0,
        low_rule="A bore is never below 0.",
    ),
    "altitude": Kind(
        si="m",
        units={label: _LENGTH[label] for label in ("m", "ft")},
        spellings=spellings_of(
            {label: _LENGTH_SPELLINGS[label] for label in ("m", "ft")}, ("m", "ft")
        ),
        offer=("m", "ft"),
        example="1000 m",
        low=-500.0,
        high=6000.0,
        low_rule="No road lies lower than 500 m below the sea.",
        high_rule="No road leads higher than 6,000 m.",
    ),
    "volume expansion": Kind(
        si="1/kelvin",
        units=_GROWTH,
        spellings=spellings_of(_GROWTH_SPELLINGS, _GROWTH),
        offer=("ppm/K", "ppm/°F"),
        example="69 ppm/K",
        low=0.0,
        high=2e-3,
        low_rule="Liquids and metals here grow with heat.",
        high_rule="No liquid or metal here grows by more than 2,000 parts in a million a kelvin.",
    ),
    "count": _plain(_NUMBER, "2", 0.0, 1e4, "A number of pieces is never below 0."),
    "temperature": _temperature(0.0, 773.15, "Nothing is colder than −273.15 °C.", "", "20 °C"),
    "freezing point": _temperature(
        173.15,
        273.15,
        "No coolant is known to freeze below −100 °C.",
        "A coolant freezes at 0 °C or below.",
        "−37 °C",
    ),
    "temperature difference": Kind(
        si="kelvin",
        units=_DIFFERENCE,
        spellings=spellings_of(
            {label: (*words, *_DELTAS.get(label, ())) for label, words in _DEGREES.items()},
            _DIFFERENCE,
        ),
        offer=("K", "°F"),
        example="2 K",
        low=-1000.0,
        high=1000.0,
        unit_less=_NO_DEGREE,
        unclear=dict.fromkeys(_NO_DEGREE, ("°C", "°F")),
    ),
    "gauge pressure": _pressure(
        "gauge",
        "absolute",
        "is absolute; this field takes the pressure above the outside air (gauge)",
        -101325.0,
        "A perfect vacuum is −101.325 kPa gauge.",
    ),
    "absolute pressure": _pressure(
        "absolute",
        "gauge",
        "is gauge, above the outside air; this field takes absolute pressure",
        0.0,
        "A perfect vacuum is 0 kPa absolute.",
    ),
    "density": Kind(
        si="kg/m^3",
        units=_DENSITY,
        spellings=spellings_of(
            {"kg/m³": ("kg/m3", "kg/m^3"), "g/cm³": ("g/cm3", "g/cm^3", "g/cc")}, _DENSITY
        ),
        offer=("kg/L", "lb/US gal"),
        example="1.128 kg/L",
        low=500.0,
        high=2000.0,
        low_rule="Liquids here are from 0.5 to 2 kg/L.",
        high_rule="Liquids here are from 0.5 to 2 kg/L.",
        unclear=dict.fromkeys(("lb/gal", "lb/gallon", "lbs/gal"), _PER_GALLON),
    ),
    "strength": Kind(
        si="dimensionless",
        units=_STRENGTH,
        spellings=spellings_of(_STRENGTH_SPELLINGS, _STRENGTH),
        offer=STRENGTH_BASES,
        example="50 % product",
        low=0.0,
        high=1.0,
        low_rule="A strength is from 0 to 100 %.",
        high_rule="A strength is from 0 to 100 %.",
        unit_less=frozenset(_PER_CENT),
        unclear=_STRENGTH_UNCLEAR,
    ),
    "share": Kind(
        si="dimensionless",
        units=_SHARE,
        spellings=spellings_of({"%": _PER_CENT}, _SHARE),
        offer=("%",),
        example="5 %",
        low=0.0,
        high=1.0,
        low_rule="A share is from 0 to 1, or from 0 to 100 % with the sign.",
        high_rule="A share is from 0 to 1, or from 0 to 100 % with the sign.",
        bare="",
    ),
    "refractive index": _plain(_NUMBER, "1.3851", 1.3, 1.5, _INDEX_RULE, both=True),
    "Brix": _plain(
        Unit(1.0, "percent"),
        "30.5",
        0.0,
        95.0,
        "The scale runs from 0 to 95.",
        both=True,
        label="°Bx",
        spellings=("Brix", "°Brix", "Bx", "% Brix", "%"),
    ),
    "specific gravity": _plain(
        _NUMBER, "1.070", 0.5, 2.0, "Liquids here are from 0.5 to 2.", both=True
    ),
    "parts of water": _plain(
        _NUMBER, "1", 0.0, 1e3, "Give the parts of water to one of the sample: 1 for as much."
    ),
    "hours": _plain(
        Unit(1.0, "hour"),
        "250 h",
        0.0,
        1e7,
        "Hours are never below 0.",
        label="h",
        spellings=("hour", "hours"),
    ),
    "winters": _plain(
        Unit(1.0, "year"),
        "20 winters",
        0.0,
        1e6,
        "A number of winters is never below 0.",
        label="winters",
        spellings=("winter", "years", "year"),
    ),
    "concentration in water": _plain(
        Unit(1.0, "mg/L"),
        "40 mg/L",
        0.0,
        1e6,
        "A content is never below 0.",
        label="mg/L",
        spellings=("ppm", "g/m3", "g/m³"),
    ),
    "hardness": Kind(
        si="mg/L",
        units=_HARDNESS,
        spellings=spellings_of(_HARDNESS_SPELLINGS, _HARDNESS),
        offer=("mg/L", "°dH"),
        example="120 mg/L",
        low=0.0,
        high=1e5,
        low_rule="A hardness is never below 0.",
        unit_less=_NO_DEGREE,
        unclear=dict.fromkeys(_GRAINS, ("gr/US gal", "gr/imp gal")),
    ),
    "pH": _plain(_NUMBER, "7.5", 0.0, 14.0, "pH runs from 0 to 14.", both=True),
    "money": _plain(_NUMBER, "12.50", 0.0, 1e9, "A price is never below 0."),
}
