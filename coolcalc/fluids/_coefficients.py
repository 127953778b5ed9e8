"""Coefficients of the property formulas. Generated; do not edit.

Made by data/fit_coefficients.py from the fit rows of data/published/,
sha256 5380533329f140defe35f976d90a1e67e44ae810ca7a548f936ab73042327eb9.
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
vapour     ethylene glycol  trc-vapour          3 rows  mean  +0.59  rms  2.75  max  4.38  %
vapour     ethylene glycol  perry-8-vapour      7 rows  mean  -0.59  rms  1.78  max  4.12  %
vapour     ethylene glycol  landolt-20          5 rows  mean  +0.31  rms  1.50  max  2.43  %
vapour     ethylene glycol  crc-vaporization    1 rows  mean  +0.02  rms  0.02  max  0.02  %
vapour     ethylene glycol  enthalpy-2009       9 rows  mean  +0.12  rms  1.73  max  2.63  %
vapour     ethylene glycol  fujita-1989         5 rows  mean  -0.55  rms  0.65  max  1.19  %
vapour     ethylene glycol  ice-line            7 rows  mean  -0.09  rms  0.52  max  0.96  %
vapour     ethylene glycol  zhang-2016          5 rows  mean  +0.43  rms  0.58  max  0.97  %
vapour     propylene glycol trc-vapour          3 rows  mean -10.76  rms 15.06  max 25.15  %
vapour     propylene glycol perry-8-vapour      7 rows  mean  +5.55  rms 11.90  max 31.16  %
vapour     propylene glycol landolt-20          5 rows  mean  -0.19  rms  1.05  max  2.21  %
vapour     propylene glycol crc-constants       1 rows  mean  -0.52  rms  0.52  max  0.52  %
vapour     propylene glycol enthalpy-2005       8 rows  mean  +0.17  rms  1.25  max  2.30  %
vapour     propylene glycol ice-line            6 rows  mean  +0.08  rms  0.40  max  0.51  %
vapour     glycerol         landolt-20          6 rows  mean  +0.21  rms  0.29  max  0.47  %
vapour     glycerol         vdi-vapour          5 rows  mean  -2.02  rms  2.62  max  4.63  %
vapour     glycerol         crc-constants       1 rows  mean  +0.10  rms  0.10  max  0.10  %
vapour     glycerol         glycerol-tx         7 rows  mean  -0.14  rms  0.89  max  1.49  %
vapour     glycerol         zhang-2022         12 rows  mean  -0.45  rms  1.61  max  5.40  %
"""

from typing import Any

KELL_TOP = (999.83952, 16.945176, -0.0079870401, -4.6170461e-05, 1.0556302e-07, -2.8054253e-10)
KELL_BOTTOM = 0.01687985
KELL_SLOPE = -6.80567200601503e-08
KELL_CURVE = 9.143022437567895e-09
WATER_INDEX = (1.3339571636514866, -3.1658055672040275e-05, -0.027273137262228648, 0.01863382048972326, -0.0072202583119630945)
WATER_MOLAR_MASS = 18.01528
WATER_CRITICAL = (647.096, 22064000.0)
WATER_VAPOR = (-7.85951783, 1.84408259, -11.7866497, 22.6807411, -15.9618719, 1.80122502)
BOIL_START_SHIFT = 0.05

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
        "molar_mass": 62.068,
        "glycol_vapor": (7.657693720183124, -19.578616430536286, -4.41177376676602, -0.9077040181133715),
        "activity": (-0.05958333113616888, -0.3590120385598699, 0.23418099395541198, 0.0),
        "activity_drift": (-2.552258189258639, 3.754595191404552, -2.7533424694047337, 0.9562603437842399),
        "boil_start": (
            (-0.0035413117736577005, -0.07495669412212722, -0.0007974394183041188, -2.180832902002525e-05),
            (0.07450451362995389, -0.0033697577457398077, -0.00028364647620964347, -4.834556627211783e-05),
            (-0.026600679587586433, -0.0032723760824356586, -9.272780409146085e-05, -7.501225865453976e-05),
            (-0.030992143222662874, -0.002890855356178597, -0.00032769985125993687, -0.00018521459737877961),
            (-0.016059041710018908, -0.0004756284847183227, -8.061997350326141e-05, -0.0001573805692425782),
            (-0.004352168282426271, 8.33793312115316e-06, 4.170664959357161e-05, -4.9722412758602385e-05),
            (-0.0004583793353169742, 1.1853389893614395e-06, 1.0866319084559196e-05, -5.197922904953526e-06),
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
        "molar_mass": 76.095,
        "glycol_vapor": (8.032127726231945, -18.88921694516429, -2.5747935322495663),
        "activity": (0.5360595650220678, -0.07339281330417645, -1.2252052395719446, 0.8669018462859358),
        "activity_drift": (-3.621254683372112, 0.4957920467152994, 8.27665524764829, -5.856200645832416),
        "boil_start": (
            (-0.002923026950161247, -0.07472769826550243, -0.0007764006157681722, -1.9091571656156376e-05),
            (0.055231003284429085, -0.009862730400669593, -0.0005309400096191281, -5.601683099911795e-05),
            (-0.03418375657051898, -0.01932298784489978, -0.0009350039307301437, -0.0001256736487066832),
            (-0.02663203056666431, -0.018237643327011853, -0.0014505137765248076, -0.00026348445225769313),
            (-0.008991587980825456, -0.007591575387510386, -0.0007913865291838604, -0.00020030573840875497),
            (-0.0014136211021645415, -0.0015779105581118858, -0.00017494973759358393, -5.9835348684420244e-05),
            (-6.571693565876732e-05, -0.00013395780193932517, -1.431409012659491e-05, -6.109489937157723e-06),
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
        "molar_mass": 92.094,
        "glycol_vapor": (3.2478014836568425, -26.927571736910153, -7.041257813733372, -0.5764374773089641),
        "activity": (-1.300223541460024, 1.1133592441160258, -0.7390161347621031),
        "activity_drift": (1.0759817077575946, -0.8053271731013064, 0.0),
        "boil_start": (
            (-0.004492581936120796, -0.07525679277720124, -0.0008301717175973101, -2.5777268912931996e-05),
            (0.09435957977634864, 0.0038692491001719436, 0.0006336765190811948, 4.340142695142399e-05),
            (-0.02736838824921905, -0.0015312326950548732, 0.004218521182959812, 0.0006354594009179345),
            (-0.0035121160690099293, -0.005933659218817178, 0.009078984998217755, 0.0017096652769699983),
            (0.004414958687221167, -0.007155316859361328, 0.007977436911427792, 0.0018537330687166927),
            (0.0018490106734633202, -0.0037968638010397646, 0.00277163025613079, 0.0007953697232916342),
            (0.00026709039339725373, -0.0006136967169887921, 0.00032446758270721277, 0.00011490738003453083),
        ),
    },
}
