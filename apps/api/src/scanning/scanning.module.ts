import { parseCode } from '@corewright/codes/label-code';
import { commandCards } from '@corewright/contracts/scanning';
import { Global, Module, type OnModuleInit } from '@nestjs/common';
import { openBadge } from './open-badge.js';
import { ScanController } from './scan.controller.js';
import { ScanRegistry } from './scan-registry.js';

/** Command cards stand for words of the interface, so they are known without a row of their own. */
const cardId = (serial: number): string => `00000000-0000-7000-8000-${serial.toString(16).padStart(12, '0')}`;

@Global()
@Module({ controllers: [ScanController], providers: [ScanRegistry], exports: [ScanRegistry] })
export class ScanningModule implements OnModuleInit {
  constructor(private readonly registry: ScanRegistry) {}

  onModuleInit(): void {
    this.registry.register('B', openBadge);
    this.registry.register('K', async (_reader, code) => {
      const parsed = parseCode(code);
      const command = parsed.ok ? commandCards[parsed.value.serial - 1] : undefined;
      if (!parsed.ok || command === undefined) return null;
      return {
        code,
        kind: 'command',
        id: cardId(parsed.value.serial),
        voided: false,
        name: command,
        detail: 'command card',
        where: '',
        quantity: '',
        free: '',
        warning: null,
        command,
      };
    });
  }
}
