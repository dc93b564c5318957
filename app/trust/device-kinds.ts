/** How the common kinds of device are told to trust an authority, and how they forget it again. */
export const deviceKinds = [
  {
    kind: 'android',
    name: 'Android tablet or telephone',
    steps: [
      'Open Settings and search there for “CA certificate”. It stands under Security, often under Encryption and credentials, Install a certificate.',
      'Choose CA certificate and go on past the warning: it is about strangers, and this certificate is your own.',
      'Choose the file stand-ledger.crt among the downloads. The device must have a screen lock.',
      'Use a browser that goes by the settings of the device, as the one that came with it does.',
    ],
    away: 'in the same settings under Trusted credentials or User credentials, tab User: tap it, then Remove.',
  },
  {
    kind: 'ipad',
    name: 'iPad or iPhone',
    steps: [
      'Load the certificate in Safari and allow the download of the profile.',
      'Open Settings, tap Profile Downloaded near the top, then Install.',
      'Still in Settings go to General, About, Certificate Trust Settings and switch it on there. Without this the device has it but does not trust it.',
    ],
    away: 'Settings, General, VPN & Device Management: tap the profile, then Remove Profile.',
  },
  {
    kind: 'windows',
    name: 'Windows',
    steps: [
      'Open the file stand-ledger.crt and choose Install Certificate, Current User.',
      'Choose to place it in a store of your own choice, and there Trusted Root Certification Authorities.',
      'Finish and say yes. Close the browser and open it again.',
    ],
    away: 'run certmgr.msc, look under Trusted Root Certification Authorities, Certificates, and delete it.',
  },
  {
    kind: 'mac',
    name: 'Mac',
    steps: [
      'Open the file stand-ledger.crt: Keychain Access takes it into the login keychain.',
      'There open it, unfold Trust and choose Always Trust, then close the window and give your password.',
    ],
    away: 'find it in Keychain Access and delete it.',
  },
  {
    kind: 'firefox',
    name: 'Firefox on a computer',
    steps: [
      'It may keep a list of its own: Settings, Privacy & Security, Certificates, View Certificates, Authorities, Import.',
      'Choose the file stand-ledger.crt and tick that it may identify websites.',
    ],
    away: 'in the same list choose it, then Delete or Distrust.',
  },
] as const

type DeviceKind = (typeof deviceKinds)[number]['kind']

/** Which of them a browser says it runs on. An iPad calls itself a Mac, so both are opened there. */
export function deviceKindOf(userAgent: string): readonly DeviceKind[] {
  if (/Android/.test(userAgent)) return ['android']
  if (/iPad|iPhone/.test(userAgent)) return ['ipad']
  if (/Firefox/.test(userAgent)) return ['firefox']
  if (/Windows/.test(userAgent)) return ['windows']
  if (/Macintosh/.test(userAgent)) return ['ipad', 'mac']
  return []
}
