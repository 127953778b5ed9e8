"""Coefficients of the property formulas. Generated; do not edit.

Made by data/fit_coefficients.py from the fit rows of data/published/,
sha256 1361df2361e58f9d0317dbc66a550b0b1786115cb1a217f3a938e22f26d6475c.
Model minus row, fit rows only:

density    ethylene glycol  crc-concentrative   9 rows  mean  -0.00  rms  0.06  max  0.08  kg/m3
density    ethylene glycol  melinder-2010      38 rows  mean  -0.08  rms  0.31  max  0.66  kg/m3
density    ethylene glycol  perry-8             2 rows  mean  -0.02  rms  0.09  max  0.11  kg/m3
density    ethylene glycol  vdi-atlas           5 rows  mean  +0.03  rms  0.07  max  0.10  kg/m3
density    propylene glycol crc-constants       1 rows  mean  +0.00  rms  0.00  max  0.00  kg/m3
density    propylene glycol eisenbach-2021      1 rows  mean  +0.03  rms  0.03  max  0.03  kg/m3
density    propylene glycol george-2003         7 rows  mean  +0.00  rms  0.11  max  0.21  kg/m3
density    propylene glycol melinder-2010      38 rows  mean  -0.03  rms  0.75  max  1.74  kg/m3
density    propylene glycol nakanishi-1967      5 rows  mean  +0.04  rms  0.07  max  0.14  kg/m3
density    propylene glycol perry-8             5 rows  mean  +1.02  rms  1.47  max  2.55  kg/m3
density    propylene glycol sun-2004            6 rows  mean  -0.49  rms  0.59  max  1.04  kg/m3
density    glycerol         bosart-1927         6 rows  mean  -0.10  rms  0.19  max  0.38  kg/m3
density    glycerol         crc-concentrative   6 rows  mean  +0.33  rms  0.39  max  0.58  kg/m3
density    glycerol         melinder-2010      29 rows  mean  -0.07  rms  0.25  max  0.75  kg/m3
density    glycerol         volk-2018          17 rows  mean  +0.95  rms  1.73  max  5.19  kg/m3
density    glycerol         lange-15            4 rows  mean  -0.29  rms  0.32  max  0.44  kg/m3
freezing   ethylene glycol  crc-concentrative  12 rows  mean  +0.01  rms  0.05  max  0.13  K
freezing   propylene glycol lange-15            6 rows  mean  -0.38  rms  0.54  max  0.86  K
freezing   propylene glycol melinder-iir        6 rows  mean  +0.19  rms  0.31  max  0.48  K
freezing   glycerol         crc-concentrative   6 rows  mean  +0.03  rms  0.06  max  0.11  K
freezing   glycerol         lange-15            6 rows  mean  -0.42  rms  0.79  max  1.32  K
freezing   glycerol         melinder-iir        4 rows  mean  +0.10  rms  0.29  max  0.54  K
refraction ethylene glycol  crc-concentrative   9 rows  mean  +0.14  rms  0.76  max  1.34  1e-4
refraction ethylene glycol  crc-constants       1 rows  mean  -0.51  rms  0.51  max  0.51  1e-4
refraction propylene glycol gerke-2023          5 rows  mean  +0.57  rms  1.41  max  2.33  1e-4
refraction propylene glycol macbeth-1951        6 rows  mean  -0.30  rms  0.50  max  0.76  1e-4
refraction glycerol         crc-concentrative   6 rows  mean  +0.07  rms  0.92  max  1.52  1e-4
refraction glycerol         crc-constants       1 rows  mean  -7.82  rms  7.82  max  7.82  1e-4
refraction glycerol         gerke-2023          2 rows  mean  -0.93  rms  3.20  max  3.99  1e-4
"""

from typing import Any

KELL_TOP = (999.83952, 16.945176, -0.0079870401, -4.6170461e-05, 1.0556302e-07, -2.8054253e-10)
KELL_BOTTOM = 0.01687985
KELL_SLOPE = -6.80567200601503e-08
KELL_CURVE = 9.143022437567895e-09
WATER_INDEX = (1.3339571636514866, -3.1658055672040275e-05, -0.027273137262228648, 0.01863382048972326, -0.0072202583119630945)

COEFFICIENTS: dict[str, dict[str, Any]] = {
    "ethylene glycol": {
        "glycol_volume": (0.0009094691800909806, 3.5443054088136414e-05, 3.1169426671480724e-06, 2.3167741564447377e-07),
        "excess_volume": (
            (-2.1823717654112448e-05, -1.9536552112048528e-05, -4.8731802781416815e-06, 2.3262672443606408e-05),
            (-2.439602749628665e-05, 0.00011988554874503591, -4.865843237595418e-05, -3.392745382327953e-05),
            (-4.151903812336865e-06, -0.0001023479777294737, 6.708419680650077e-05),
        ),
        "freeze": (29.967132822066123, 18.944655996562133, 164.72700843666797, -69.62958046898201),
        "freeze_end": 51.35739604554225,
        "freeze_start": (1.7156707396936466, -2.197604851668077, -14.688087498709185, 117.67148388242896, -387.4549051692598, 704.7076574438065, -731.4827342862421, 405.3516063697226, -93.02423554029029),
        "melt_from": 0.8,
        "melt_k": 260.15,
        "melt": (194.64768463466947, -286.2104642598671, 608.9047516277373, -1230.4855264094251, 2080.5727201028717, -1900.0523490448948),
        "melt_end": 30.927759447400067,
        "melt_start": (0.1588909709956331, 0.03712215135310265, 0.004800844741515219, -0.0005331414782090429, -4.2542087747774575e-05, -0.0004839847936102264, 0.0007237543147970956, -0.0007553000467128439, 0.00027724626164016963),
        "index_rise": (0.09322610716257579, 0.021577785830425945, -0.016052518426191705),
        "index_warm": (-0.0002771631414603456, 5.976091604716413e-05),
    },
    "propylene glycol": {
        "glycol_volume": (0.0009787404604364096, 4.11265113037646e-05, 2.7035350127431443e-06, 4.828773461696497e-06),
        "excess_volume": (
            (-6.483838391004977e-05, -0.00010712869397655302, 0.00019268052480423032, 0.00012957317343565843, -0.0002490060622011752),
            (5.069511393269185e-05, 0.0006658615025446414, -0.000776724428595142, -0.0005023522122378712, 0.0009224844268552646),
            (-0.00016954708280173095, -0.0010769460465790133, 0.0007146945088790755, 0.00046347644040367224, -0.0008296938079276667),
            (0.00010440928345180202, 0.0005828910781938839),
        ),
        "freeze": (24.44313029765425, 39.53514801252851, 33.20390216425781, 167.75901849636543, -552.2648536029908, 1608.7365655397793, -2094.244345939422, 1249.2833455605407),
        "freeze_end": 52.282965748247165,
        "freeze_start": (2.138134573346096, -7.1915293750460325, 27.521403647241392, -89.92216643757791, 210.92039911255804, -324.93222509734164, 307.5807629524321, -161.20134784310454, 35.68697033972736),
        "melt_k": 0.0,
        "melt_end": 0.0,
        "melt_from": 2.0,
        "melt": (0.0,),
        "melt_start": (0.0,),
        "index_rise": (0.10181026521690636, 0.06100895184533645, -0.10081760956867178, 0.038150667250454975),
        "index_warm": (-0.0002483592938494207, 2.1129550233852666e-05),
    },
    "glycerol": {
        "glycol_volume": (0.0008007629269294373, 2.3620907716073134e-05, 6.315070596768949e-07),
        "excess_volume": (
            (-3.388359709520427e-05, -2.977870322652459e-05, -3.120767708448214e-05),
            (3.923552732235609e-05, 0.00011464272261363548, 6.466918511056018e-06),
            (-9.017089566677356e-05, -8.557810233224255e-05),
            (3.912077546332428e-05,),
        ),
        "freeze": (20.196755488956935, 29.069388029355224, 25.008004133654193, 51.32391643271037, -120.79932099013197, 391.3166144689417, -510.7396273162965, 324.4350306466059),
        "freeze_end": 34.65207606406471,
        "freeze_start": (1.7155057376429044, -4.188448104731392, 12.689928188539168, -35.850014456419366, 77.26438816298845, -113.18371113810167, 103.78398628016053, -53.23930406028275, 11.60778856143218),
        "melt_from": 0.7,
        "melt_k": 291.34999999999997,
        "melt": (197.1530318820586, -55.16901205613148, 65.73252956813421, 11.345381513955683, -9.441700808315613, 114.74246403311551),
        "melt_end": 56.10807829148436,
        "melt_start": (0.2845915059477526, 0.022663985996119747, -0.004076094878365179, -0.0027104897311232682, -0.00037011162280461865, 1.4362123465923145e-05, -0.0002037081648544467, 6.016638878653402e-05, 3.038425876770152e-05),
        "index_rise": (0.11222804808955072, 0.04950482959656478, -0.028679723317780785, 0.007767885831609382),
        "index_warm": (-0.00012810352333466859, 0.0),
    },
}
