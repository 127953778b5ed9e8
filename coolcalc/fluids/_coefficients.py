"""Coefficients of the property formulas. Generated; do not edit.

Made by data/fit_coefficients.py from the fit rows of data/published/,
sha256 dc8ed2c5da27c46699a3b090d487af062f529c8338b1e23d06e6ff921f39d70b.
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
freezing   ethylene glycol  crc-concentrative  10 rows  mean  +0.01  rms  0.04  max  0.09  K
freezing   propylene glycol ashrae-2001         4 rows  mean  +0.21  rms  0.29  max  0.42  K
freezing   propylene glycol lange-15            4 rows  mean  -0.62  rms  0.68  max  0.86  K
freezing   propylene glycol melinder-iir        6 rows  mean  +0.36  rms  0.44  max  0.66  K
freezing   glycerol         crc-concentrative   4 rows  mean  +0.01  rms  0.02  max  0.03  K
freezing   glycerol         lange-15            3 rows  mean  -0.56  rms  0.70  max  0.95  K
freezing   glycerol         melinder-iir        4 rows  mean  +0.03  rms  0.34  max  0.61  K
refraction ethylene glycol  crc-concentrative   9 rows  mean  +0.14  rms  0.76  max  1.34  1e-4
refraction ethylene glycol  crc-constants       1 rows  mean  -0.51  rms  0.51  max  0.51  1e-4
refraction propylene glycol gerke-2023          5 rows  mean  +0.57  rms  1.41  max  2.33  1e-4
refraction propylene glycol macbeth-1951        6 rows  mean  -0.30  rms  0.50  max  0.76  1e-4
refraction glycerol         crc-concentrative   6 rows  mean  +0.07  rms  0.92  max  1.52  1e-4
refraction glycerol         crc-constants       1 rows  mean  -7.82  rms  7.82  max  7.82  1e-4
refraction glycerol         gerke-2023          2 rows  mean  -0.93  rms  3.20  max  3.99  1e-4
heat_capacity ethylene glycol  melinder-2010      28 rows  mean  +0.01  rms  0.12  max  0.30  %
heat_capacity ethylene glycol  perry-8-transport   9 rows  mean  -0.22  rms  0.22  max  0.26  %
heat_capacity ethylene glycol  zabransky-2001      9 rows  mean  +0.21  rms  0.22  max  0.28  %
heat_capacity propylene glycol melinder-2010      28 rows  mean  +0.01  rms  0.20  max  0.66  %
heat_capacity propylene glycol perry-8-transport  10 rows  mean  -0.14  rms  0.18  max  0.35  %
heat_capacity propylene glycol zabransky-2001     10 rows  mean  +0.14  rms  0.39  max  0.78  %
heat_capacity glycerol         melinder-2010      25 rows  mean  +0.01  rms  0.16  max  0.34  %
heat_capacity glycerol         zabransky-2001      6 rows  mean  +0.00  rms  0.01  max  0.02  %
heat_capacity water            iapws-transport    14 rows  mean  +0.00  rms  0.04  max  0.07  %
conductivity ethylene glycol  melinder-2010      28 rows  mean  -0.02  rms  1.00  max  1.75  %
conductivity ethylene glycol  perry-8-transport   9 rows  mean  +0.01  rms  0.02  max  0.03  %
conductivity ethylene glycol  vdi-transport       9 rows  mean  -0.01  rms  0.02  max  0.03  %
conductivity propylene glycol melinder-2010      28 rows  mean  +0.00  rms  1.08  max  2.05  %
conductivity propylene glycol perry-8-transport  10 rows  mean  +0.00  rms  0.01  max  0.03  %
conductivity glycerol         melinder-2010      25 rows  mean  -0.02  rms  0.38  max  0.87  %
conductivity glycerol         vdi-transport       8 rows  mean  +0.00  rms  0.01  max  0.02  %
conductivity water            iapws-transport    14 rows  mean  +0.00  rms  0.05  max  0.10  %
viscosity  ethylene glycol  crc-concentrative  18 rows  mean  +0.87  rms  1.12  max  1.92  %
viscosity  ethylene glycol  melinder-2010      28 rows  mean  +0.32  rms  2.21  max  5.82  %
viscosity  ethylene glycol  perry-8-transport   9 rows  mean  -0.26  rms  0.76  max  1.29  %
viscosity  ethylene glycol  sun-teja-2003      11 rows  mean  -0.79  rms  1.18  max  2.34  %
viscosity  ethylene glycol  yang-2003          26 rows  mean  -0.11  rms  1.97  max  5.84  %
viscosity  propylene glycol melinder-2010      28 rows  mean  -0.44  rms  4.14  max 11.12  %
viscosity  propylene glycol perry-8-transport  10 rows  mean  +1.00  rms  2.00  max  2.93  %
viscosity  propylene glycol sun-2004            7 rows  mean  +0.06  rms  1.17  max  2.22  %
viscosity  glycerol         cheng-2008         45 rows  mean  -0.77  rms  1.90  max  5.22  %
viscosity  glycerol         crc-concentrative  24 rows  mean  -0.56  rms  0.94  max  2.94  %
viscosity  glycerol         melinder-2010      25 rows  mean  +1.11  rms  2.72  max  8.11  %
viscosity  glycerol         segur-1951         20 rows  mean  +0.56  rms  1.16  max  3.39  %
viscosity  glycerol         vdi-transport       3 rows  mean  +0.36  rms  0.72  max  1.02  %
viscosity  water            iapws-transport    14 rows  mean  -0.00  rms  0.01  max  0.01  %
"""

from typing import Any

KELL_TOP = (999.83952, 16.945176, -0.0079870401, -4.6170461e-05, 1.0556302e-07, -2.8054253e-10)
KELL_BOTTOM = 0.01687985
KELL_SLOPE = -6.80567200601503e-08
KELL_CURVE = 9.143022437567895e-09
WATER_INDEX = (1.3339571636514866, -3.1658055672040275e-05, -0.027273137262228648, 0.01863382048972326, -0.0072202583119630945)
WATER_HEAT_CAPACITY = (4177.7208308341305, 1.11520927395126, 67.42946515575758, -37.60694616027189, -1.810033586693924, 8.892130169031683)
WATER_CONDUCTIVITY = (0.6288272969740747, 0.07926718413637623, -0.04025073564379438, 0.009278713783986923, 0.002535829633879096, -0.0024476730057860214)
WATER_VISCOSITY = (-7.334441025062753, 3.2540538714886655, 0.08790011616500641, 0.7524718645186108, 0.6732845828707972, -0.7799425241779744)

COEFFICIENTS: dict[str, dict[str, Any]] = {
    "ethylene glycol": {
        "glycol_volume": (0.0009094691800909806, 3.5443054088136414e-05, 3.1169426671480724e-06, 2.3167741564447377e-07),
        "excess_volume": (
            (-2.1823717654112448e-05, -1.9536552112048528e-05, -4.8731802781416815e-06, 2.3262672443606408e-05),
            (-2.439602749628665e-05, 0.00011988554874503591, -4.865843237595418e-05, -3.392745382327953e-05),
            (-4.151903812336865e-06, -0.0001023479777294737, 6.708419680650077e-05),
        ),
        "freeze": (29.967132822066123, 18.426734155499922, 168.50291326387668, -74.79832246984887),
        "freeze_end": 51.316670662124594,
        "freeze_start": (1.7143688818034306, -2.1532206942094585, -15.328717337955785, 121.48314320077874, -399.44059852257, 726.3181701698472, -753.9040544428075, 417.7941132689968, -95.88438855459347),
        "index_rise": (0.09322610716257579, 0.021577785830425945, -0.016052518426191705),
        "index_warm": (-0.0002771631414603456, 5.976091604716413e-05),
        "heat_capacity_glycol": (2477.6697916175403, 307.3613313096512, -8.18632795385174),
        "heat_capacity_excess": (
            (658.6873690330792, 201.8078240381401, -319.5744597482956),
            (-239.93758985180241, 710.9632658292295),
            (-780.8745937911638,),
        ),
        "conductivity_glycol": (0.25607780118498996, 0.007581211323239106, -0.004733245556287037),
        "conductivity_excess": (
            (-0.12288516551549374, -0.03150209606650575, 0.041334696077389835),
            (-0.03549451574206544, -0.04536219977825742),
        ),
        "viscosity_glycol": (-4.661822729152647, 6.040681460363303, 0.12594945247389222, -0.5497223364507582),
        "viscosity_excess": (
            (-0.26012697542040336, -0.9793415316394475, -0.18396679537520313),
            (-0.8315511954630572, 0.007939984795287031),
            (0.04853702266882417,),
        ),
    },
    "propylene glycol": {
        "glycol_volume": (0.0009787404604364096, 4.11265113037646e-05, 2.7035350127431443e-06, 4.828773461696497e-06),
        "excess_volume": (
            (-6.483838391004977e-05, -0.00010712869397655302, 0.00019268052480423032, 0.00012957317343565843, -0.0002490060622011752),
            (5.069511393269185e-05, 0.0006658615025446414, -0.000776724428595142, -0.0005023522122378712, 0.0009224844268552646),
            (-0.00016954708280173095, -0.0010769460465790133, 0.0007146945088790755, 0.00046347644040367224, -0.0008296938079276667),
            (0.00010440928345180202, 0.0005828910781938839),
        ),
        "freeze": (24.44313029765425, 42.18315149376364, -3.1319553141120764, 170.03254037030737),
        "freeze_end": 51.21152760049108,
        "freeze_start": (2.092697365648551, -7.002431125979129, 30.892039482769416, -124.36474343131545, 344.2414448175579, -593.7035655520178, 606.579072753027, -335.24698834500026, 77.11353241473226),
        "index_rise": (0.10181026521690636, 0.06100895184533645, -0.10081760956867178, 0.038150667250454975),
        "index_warm": (-0.0002483592938494207, 2.1129550233852666e-05),
        "heat_capacity_glycol": (2592.415505061277, 347.5055954339838, -1.1027988915872857),
        "heat_capacity_excess": (
            (891.1942891625921, 383.5552444611682, -153.65395202911512),
            (353.5213137162766, -195.36265526301477),
            (-649.045059144847,),
        ),
        "conductivity_glycol": (0.19962416107382552, -0.0029610738255033396),
        "conductivity_excess": (
            (-0.1546052444331221, -0.047553089851463275, 0.040017793296490786),
            (-0.004959051224725667, -0.009361492984774613),
        ),
        "viscosity_glycol": (-3.925037920268793, 8.27452321953919, 1.1740997662626227, -1.3080445585500535),
        "viscosity_excess": (
            (-0.30618942446553626, -0.11464928409374808, 1.1051270215381288),
            (-0.43309461898924456, 0.5968186495168559),
            (-0.8889667921243063, -2.263955591740814),
        ),
    },
    "glycerol": {
        "glycol_volume": (0.0008007629269294373, 2.3620907716073134e-05, 6.315070596768949e-07),
        "excess_volume": (
            (-3.388359709520427e-05, -2.977870322652459e-05, -3.120767708448214e-05),
            (3.923552732235609e-05, 0.00011464272261363548, 6.466918511056018e-06),
            (-9.017089566677356e-05, -8.557810233224255e-05),
            (3.912077546332428e-05,),
        ),
        "freeze": (20.196755488956935, 31.178514321215232, 9.509257911594915, 70.62478662569747),
        "freeze_end": 34.54929050460653,
        "freeze_start": (1.7099654064907854, -4.371670026059453, 15.798772117666381, -55.61254627922855, 141.57444725599862, -231.32579477996634, 227.7745513933804, -122.59192591002999, 27.64453274823987),
        "index_rise": (0.11222804808955072, 0.04950482959656478, -0.028679723317780785, 0.007767885831609382),
        "index_warm": (-0.00012810352333466859, 0.0),
        "heat_capacity_glycol": (2449.7156392468396, 310.83793312015797),
        "heat_capacity_excess": (
            (277.1082481404529, -19.330848023446265, -295.0516802349808),
            (-65.36380804595984, 1498.4070836229355),
            (-94.24777511015932,),
        ),
        "conductivity_glycol": (0.2935043378995435, 0.00682328767123287),
        "conductivity_excess": (
            (-0.08666402299074223, -0.050977418383962254, 0.03883393802938837),
            (-0.07558664006569792, 0.0010543099595988772),
        ),
        "viscosity_glycol": (-1.2655920274459527, 12.089353424581404, 1.8902475144632482, -1.6062984283044957),
        "viscosity_excess": (
            (-3.71284447210082, -6.778799932038579, -1.803772585507759),
            (-3.6626816929298522, -6.405971122346465),
            (1.9959060970546376, -3.1206006669848967),
            (-6.536935876424743, -1.389220436974523),
        ),
    },
}
